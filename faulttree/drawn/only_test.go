package drawn_test

import (
	"context"
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/suspect"
)

// Some cases by themselves read what they read among all, whether that is solved
// already or not.
func TestSomeCasesByThemselves(t *testing.T) {
	ctx := context.Background()
	all := population(t, shore)
	var some []int
	for i := 3; i < len(all.Cases()); i += 37 {
		some = append(some, i)
	}
	q := handbook().Forest.Quantities["body-earth"]
	before := all.Only(some)
	column := must.Have(all.Column(ctx, q))(t)
	for name, few := range map[string]suspect.Population{"solved for these alone": before, "taken from all": all.Only(some), "of more": more(t, all).Only(some)} {
		got, err := few.Column(ctx, q)
		if err != nil || len(got) != len(some) || len(few.Cases()) != len(some) {
			t.Fatalf("%s: %d figures of %d cases, %v", name, len(got), len(few.Cases()), err)
		}
		for k, i := range some {
			if want := float64(column[i]); !(math.Abs(float64(got[k])-want) <= 1e-6*math.Abs(want)) && !(got[k] != got[k] && want != want) {
				t.Errorf("%s: case %d reads %v, among all %v", name, i, got[k], want)
			}
			if few.Cases()[k].Rig != all.Cases()[i].Rig || len(few.Cases()[k].Faults) != len(all.Cases()[i].Faults) {
				t.Errorf("%s: case %d is another", name, i)
			}
		}
	}
}

func more(t *testing.T, p *drawn.Population) *drawn.Population {
	m := must.Have(p.More(context.Background(), []int{0}, 50))(t)
	return m.(*drawn.Population)
}

// Before anything went wrong with them vehicles read what sound ones do, and what a fault
// leaves alone reads as it does with the fault: the heater in ohms, 120² V² over its watts,
// is that of the same vehicle.
func TestVehiclesBeforeAnythingWentWrong(t *testing.T) {
	all := population(t, shore)
	before := all.Sound()
	heater := quantity("ohm:plug.l1-n@unplugged", faulttree.Ohms, "plug.l1", "plug.n", faulttree.Unplugged, faulttree.Loaded)
	volts, feeds, ohms, was := column(t, before, body), column(t, before, hot), column(t, all, heater), column(t, before, heater)
	faulted, heated, changed := 0, 0, 0
	for i, c := range all.Cases() {
		if len(c.Faults) > 0 {
			faulted++
		}
		if len(before.Cases()[i].Faults) > 0 || volts[i] >= 5 || feeds[i] < 110 {
			t.Errorf("case %d, before %v: %v V on the body, %v V at the pedestal", i, c.Faults, volts[i], feeds[i])
		}
		if was[i] >= 120*120/1500. && was[i] <= 120*120/500.+1 {
			heated++
		}
		if ohms[i] != was[i] && !(math.Abs(float64(ohms[i]-was[i])) < 0.01) {
			changed++
		}
	}
	if faulted == 0 || heated == 0 || changed > 0 { // no fault of the trailer is in its heater
		t.Errorf("of %d vehicles with faults, and %d heaters on, %d read otherwise", faulted, heated, changed)
	}
}
