package content_test

import (
	"math"
	"slices"
	"strings"
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree/rig"
)

// No load is a test where the neutral is in doubt: whatever opens a neutral, or
// puts a resistance into it, and leaves the hots as they are, forbids loads.
func TestALostNeutralForbidsLoads(t *testing.T) {
	marked := 0
	for id, f := range shipped().Faults {
		if f.Edits == nil {
			continue
		}
		neutral := func(part string) bool { return strings.HasSuffix(part, ".n") }
		for _, v := range f.Edits.Variants {
			for _, e := range v.Edits {
				if (e.Kind == rig.Open || e.Kind == rig.Resist) && slices.ContainsFunc(e.Parts, neutral) && !slices.ContainsFunc(e.Parts, func(p string) bool { return !neutral(p) }) && !f.NoLoads {
					t.Errorf("%s, %s: loads are not forbidden", id, v.Text)
				}
			}
		}
		if got := scenes.Described(shipped())(id, f.Places[0]).NoLoads; got != f.NoLoads {
			t.Errorf("%s forbids loads: %v, and the next reading is told %v", id, f.NoLoads, got)
		}
		if f.NoLoads {
			marked++
		}
	}
	if marked == 0 || marked > len(shipped().Faults)/5 {
		t.Errorf("%d faults forbid loads", marked)
	}
}

// A fault that is said to stay within one branch leaves every leg at the panel as it is
// in a sound vehicle, loads off, by the model of each rig that can have it: to read
// inside puts a wrong voltage on nothing.
func TestAFaultOfOneBranchLeavesTheLegsAlone(t *testing.T) {
	lib := shipped()
	found := 0
	for id := range lib.Rigs {
		s := standOf(t, lib, id)
		for _, q := range []string{"panel.l1-n", "panel.l2-n"} {
			if point, _, _ := strings.Cut(q, "-"); !s.rig.HasNode(point) {
				continue
			}
			s.put(rig.Setup{})
			sound := s.reads(q)
			for name, f := range lib.Faults {
				if !f.OneBranch {
					continue
				}
				for at, v := range f.Edits.Variants {
					if !v.FitsIn(s.rig) {
						continue
					}
					found++
					s.put(rig.Setup{Faults: []rig.Applied{f.Edits.Ordinary(at)}})
					if reads := s.reads(q); math.Abs(reads-sound) > 1 || !f.NoLoads {
						t.Errorf("%s in %s: %s reads %.1f V, and %.1f V without it", name, id, q, reads, sound)
					}
				}
			}
		}
	}
	if found < 5 {
		t.Errorf("%d times a fault of one branch", found)
	}
}
