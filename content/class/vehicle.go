package class

import (
	"faultwright/content"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/practice"
)

// vehicleOf is a variant of a scenario, 0 as it was written.
func vehicleOf(lib *content.Library, s *content.Scenario, seed uint64) (practice.Case, error) {
	return scenes.CaseOf(lib, scenes.VariantOf(s, seed)), nil
}
