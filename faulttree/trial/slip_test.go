package trial_test

import (
	"context"
	"math"
	"strings"
	"testing"

	"faultwright/faulttree/trial"

	"github.com/google/go-cmp/cmp"
)

// A tree that clears on one reading clears wrongly where that reading goes
// wrong: with the ground open, a frozen display and a tip on the neutral beside
// show 120 V, two of three slips. A tree that repeats it does so far less often.
func TestAllClearsAreCountedWithWrongReadings(t *testing.T) {
	o := trial.Options{Rigs: 3000, Seed: 1, WalkOnly: true}
	rate := func(twice bool, wrong float64) float64 {
		f := forest(false)
		p := f.Trees["pedestal"]
		if twice {
			again := step("pedestal", "again", p.Step("ground").Measure[0].Quantity, 100, "no-ground", "clear")
			p.Steps = append(p.Steps, again, step("pedestal", "between", p.Step("proof").Measure[0].Quantity, 100, "not-judged", "again"))
			p.Index()
			p.Step("ground").Branches[1].To.Step = "between"
		}
		o.Wrong = wrong
		r := run(t, handbook(f), "pedestal", o)
		cleared, all := 0, 0
		for _, c := range r.Cells {
			if c.Fault == "open-ground" {
				cleared, all = cleared+c.False, all+c.Walks
			}
		}
		if all < 1000 {
			t.Fatalf("%d grounds were open", all)
		}
		return float64(cleared) / float64(all)
	}
	if x := rate(false, 0); x != 0 {
		t.Errorf("%v of the open grounds are cleared without a wrong reading", x)
	}
	once, repeated := rate(false, 0.1), rate(true, 0.1)
	// proof and hot survive their own slips in about nine of ten walks
	if want := 0.1 * 2 / 3 * 0.9; math.Abs(once-want) > 0.02 {
		t.Errorf("%v of the open grounds are cleared by one wrong reading; want about %v", once, want)
	}
	if repeated > once/4 {
		t.Errorf("%v are cleared where the reading is repeated, %v where it is not", repeated, once)
	}
}

// Draws with wrong readings are as independent of the workers as others, and a
// sound vehicle is found so unless one of its three readings shows 0.
func TestWrongReadingsBelongToTheDraw(t *testing.T) {
	o := trial.Options{Rigs: 6000, Seed: 3, Workers: 1, WalkOnly: true, Wrong: 0.1}
	one := run(t, handbook(forest(false)), "pedestal", o)
	o.Workers = 3
	if d := cmp.Diff(one, run(t, handbook(forest(false)), "pedestal", o)); d != "" {
		t.Error(d)
	}
	// a third of the slips misses the contact; the frozen and the neighbouring reading are about 120 V as well
	if want := math.Pow(1-0.1/3, 3); math.Abs(one.HealthyRate-want) > 0.03 {
		t.Errorf("%v of the sound are found so; want about %v", one.HealthyRate, want)
	}
	for _, wrong := range []float64{-0.1, 0.6, math.NaN()} {
		o.Wrong = wrong
		if _, err := trial.Run(context.Background(), handbook(forest(false)), "pedestal", o); err == nil {
			t.Errorf("a share of %v is tried", wrong)
		}
	}
}

// Every false all-clear of a careful tree says which reading went wrong on the
// way to it: L1 to ground tells an open ground, L1 to neutral that L1 is not there
// or stands on the ground. A careless tree has false all-clears without one.
func TestAFalseAllClearSaysWhichReadingWentWrong(t *testing.T) {
	o := trial.Options{Rigs: 2000, Seed: 4, WalkOnly: true, Wrong: 0.05}
	r := run(t, handbook(forest(false)), "pedestal", o)
	if len(r.False) == 0 {
		t.Fatal("no wrong reading leads to an all-clear")
	}
	hows := map[string]int{}
	for _, f := range r.False {
		said := strings.Contains(f.Vehicle, "meter-weak") // a lead that breaks is not a reading that goes wrong once
		telling := "pedestal#hot pedestal.l1-n"
		if strings.Contains(f.Vehicle, "open-ground") {
			telling = "pedestal#ground pedestal.l1-g"
		}
		for _, x := range f.Wrong {
			hows[x.How]++
			said = said || x.Step+" "+x.Quantity == telling && x.Shown != x.Right
		}
		if !said {
			t.Errorf("%s, %s: wrong are %+v", f.Vehicle, f.Path, f.Wrong)
		}
	}
	if hows["a frozen display"] == 0 || hows["the contact beside"] == 0 {
		t.Errorf("they went wrong in these ways: %v", hows)
	}
	careless := run(t, handbook(forest(true)), "pedestal", trial.Options{Rigs: 2000, Seed: 4, WalkOnly: true, Wrong: 0.001})
	if len(careless.False) == 0 || len(careless.False[0].Wrong) > 0 {
		t.Errorf("an all-clear that never looked at the ground: %+v", careless.False[:1])
	}
}
