package content_test

import (
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
)

// What a shipped tree has a reader measure says what is live near him, by its
// method or in the list of quantities; what the list holds besides says it too.
func TestEveryQuantityHasAnExposure(t *testing.T) {
	lib := load.Shipped()
	measured := 0
	for _, tree := range lib.Forest.Trees {
		for _, s := range tree.Steps {
			for _, v := range s.Measure {
				measured++
				if v.Quantity.Exposure == faulttree.Unexposed {
					t.Errorf("%s: %s measures %s, which has no exposure", s.Pos, s.Ref(), v.Quantity.ID)
				}
			}
		}
	}
	if measured < 100 {
		t.Errorf("the shipped trees measure %d times", measured)
	}
	for _, id := range lib.Forest.Quantities.IDs() {
		q := lib.Forest.Quantities[id]
		ohms := q.Unit == faulttree.Ohms
		if q.Exposure == faulttree.Unexposed || ohms && q.Exposure != faulttree.DeadTest {
			t.Errorf("%s: the exposure of %s is %q", q.Pos, id, q.Exposure)
		}
	}
	if want := (faulttree.Weights{1, 1, 3, 6, 8}); lib.Forest.Weights != want {
		t.Errorf("the handbook weighs %v; want %v", lib.Forest.Weights, want)
	}
}
