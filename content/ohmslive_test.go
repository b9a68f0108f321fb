package content_test

import (
	"math/cmplx"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// Ohms are read between no two points between which the circuit, solved by itself, has
// the volts that a meter of 10 MΩ and 100 pF makes more than one of: with every fault of
// the catalogue, in the state in which the ohms are read and with everything on.
func TestOhmsAreReadOfNothingLive(t *testing.T) {
	lib := shipped()
	read, live := 0, 0
	for _, r := range lib.Rigs {
		b := must.Have(bench.New(r))(t)
		check := func(s rig.Setup) {
			t.Helper()
			must.Do(t, b.Set(s))
			for _, id := range lib.Forest.Quantities.IDs() {
				q := lib.Forest.Quantities[id]
				if q.Unit != faulttree.Ohms || !b.HasNode(q.Red) || !b.HasNode(q.Black) {
					continue
				}
				for _, st := range []bench.State{b.StateFor(q, r.Legs()), b.AllOn()} {
					volts, _, err := b.Voltage(st, q.Red, q.Black)
					m := must.Have(b.MeasureIn(q, st, bench.HighImpedance))(t)
					must.Do(t, err)
					switch size := cmplx.Abs(volts); {
					case m.Hazard:
						live++
					case size > 1.1:
						t.Fatalf("rig %s, %v: %s is read with %.3g V between the probes", r.ID, s.Faults, id, size)
					default:
						read++
					}
				}
			}
		}
		check(rig.Setup{})
		for _, fault := range lib.Faults {
			f := fault.Edits
			if f == nil {
				continue
			}
			for i, v := range f.Variants {
				if v.FitsIn(r) && !slices.ContainsFunc(v.Edits, func(e rig.Edit) bool { return e.Kind == rig.Misuse }) {
					check(rig.Setup{Faults: []rig.Applied{f.Ordinary(i)}})
				}
			}
		}
	}
	if min(read, live) < 1000 {
		t.Errorf("%d were read and %d live: that shows little", read, live)
	}
}
