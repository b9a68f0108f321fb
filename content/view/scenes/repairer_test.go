package scenes_test

import (
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
)

// What is to be done about a fault is a place and who repairs there. A variant in a
// place of which its document does not say who repairs there is told apart from the
// others although nobody could do anything else about it.
func TestEveryPlaceOfAFaultSaysWhoRepairsThere(t *testing.T) {
	lib := marking().lib
	describe := scenes.Described(lib)
	for id, f := range lib.Faults {
		if f.Edits == nil || f.Hazard == faulttree.Notice { // nothing is broken
			continue
		}
		for _, v := range f.Edits.Variants {
			if v.Shows() && describe(id, v.Place).RepairBy == "" {
				t.Errorf("%s: nobody is said to repair it in the place %s (%s)", id, v.Place, v.Text)
			}
		}
	}
}
