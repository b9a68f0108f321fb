package bench_test

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// Between two points an ohmmeter sees the same to the bit whatever else is asked of the
// vehicle, before it or behind it, also where nothing leads from one to the other.
func TestOhmsOfManyPoints(t *testing.T) {
	first := must.Have(bench.New(small()))(t)
	points := []string{"feed.l1", "feed.l2", "panel.l1", "panel.l2", "panel.n", "body"}
	var qs []faulttree.Quantity
	for i, red := range points {
		for _, black := range points[:i] {
			qs = append(qs, faulttree.Quantity{ID: red + "-" + black, Unit: faulttree.Ohms, Red: red, Black: black, Conditions: []faulttree.Condition{faulttree.Unplugged}})
		}
	}
	many := first.Another()
	var probes []*bench.Probing
	for _, q := range qs {
		probes = append(probes, many.Probing(q, many.StateFor(q, first.Rig().Legs()), bench.HighImpedance))
	}
	ways := 0
	for i := range 40 {
		var faults []rig.Applied
		if i%4 > 0 {
			faults = append(faults, fault(rig.Edit{Kind: rig.Connect, Nodes: [2]string{points[i%5], "body"}, Ohms: rig.EditValue{Fixed: float64(1 + i*i*i)}}))
		}
		if i%3 > 0 {
			faults = append(faults, fault(rig.Edit{Kind: rig.Open, Parts: []string{"main.l1"}}))
		}
		must.Do(t, many.Set(rig.Setup{Faults: faults}))
		for n := range qs {
			n = (n*7 + i) % len(qs)
			alone := first.Another()
			must.Do(t, alone.Set(rig.Setup{Faults: faults}))
			got, want := must.Have(probes[n].Measure())(t), must.Have(alone.Measure(qs[n], bench.HighImpedance))(t)
			if got.Value != want.Value || got.Defined != want.Defined {
				t.Fatalf("vehicle %d, %s: %v %v; by itself %v %v", i, qs[n].ID, got.Value, got.Defined, want.Value, want.Defined)
			}
			if got.Defined {
				ways++
			}
		}
	}
	if ways < 100 || ways == 40*len(qs) {
		t.Errorf("in %d of %d there is a way for a current", ways, 40*len(qs))
	}
}
