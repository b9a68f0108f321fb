package check

import (
	"testing"

	"faultwright/content"
	"faultwright/content/load"
)

// The shipped orders are current; without its order, or with one from something else,
// each scenario is named in its own file.
func TestScenariosWithoutAnOrderAreNamed(t *testing.T) {
	l := *load.Shipped()
	if all := unordered(&l); len(all) > 0 {
		t.Error(all)
	}
	l.Orders = map[string]content.Order{"buzz-after-the-rain": {Basis: "of another handbook"}}
	all := unordered(&l)
	if len(all) != len(l.Scenarios) {
		t.Fatalf("%d of %d are named", len(all), len(l.Scenarios))
	}
	for _, d := range all {
		if l.Files[d.Pos.File] == nil || d.Hint == "" {
			t.Error(d)
		}
	}
}
