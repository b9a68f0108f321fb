package content_test

import (
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
