package content_test

import (
	"math/rand/v2"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// A ground that ends in a rod carries nothing, so against remote earth it would
// stand at exactly 0 V and any volt meter would know it. On a site the soil at
// the spike is lifted as well (common practice, no source), so its readings
// and those of a sound ground lie among each other. On the wye site the rod
// itself carries what the filters of two legs do not cancel, so it is left out.
func TestSoilHidesARodFromTheMeter(t *testing.T) {
	lib := shipped()
	for _, id := range []string{"coach-50a", "trailer-30a", "trailer-30a-on-50a"} {
		s := standOf(t, lib, id)
		f := lib.Faults["rod-only-ground"].Edits
		fits := slices.IndexFunc(f.Variants, func(v rig.Variant) bool { return v.FitsIn(s.rig) })
		if fits < 0 {
			t.Errorf("no rod fits in %s", id)
			continue
		}
		sample := func(faults ...rig.Applied) []float64 {
			rng := rand.New(rand.NewPCG(3, 4))
			readings := make([]float64, 301)
			for i := range readings {
				s.put(rig.Setup{Values: s.rig.Draw(rng), Faults: faults})
				readings[i] = s.reads("pedestal.g-earth")
			}
			slices.Sort(readings)
			return readings
		}
		sound, rod := sample(), sample(rig.Applied{Fault: f, Variant: fits, Severity: severity(f)})
		for _, pair := range [][2][]float64{{sound, rod}, {rod, sound}} {
			if middle, other := pair[0][150], pair[1]; middle < other[30] || middle > other[270] {
				t.Errorf("%s: the middle reading %.3g V lies outside of %.3g to %.3g V", id, middle, other[30], other[270])
			}
		}
	}
}

// Soil lifts the spike by an alternating voltage only: between the body and
// earth nothing direct is added.
func TestSoilAddsNothingDirect(t *testing.T) {
	lib := shipped()
	s := standOf(t, lib, "house-12v")
	s.put(rig.Setup{})
	q := faulttree.Quantity{ID: "body-earth", Unit: faulttree.VoltsDC, Red: "body", Black: "earth"}
	m, err := s.Measure(q, bench.HighImpedance)
	if err != nil || !m.Defined || real(m.Value) < -1e-6 || real(m.Value) > 1e-6 {
		t.Errorf("direct volts from body to earth: %+v, %v", m, err)
	}
}
