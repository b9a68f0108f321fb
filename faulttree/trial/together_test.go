package trial_test

import (
	"math"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/trial"
)

// Two faults that are the same in every number cannot be told apart by any
// reading: they are named together, and where one person repairs both in one
// place what is to be done is known all the same. What other readings tell apart
// is not named.
func TestWhatNoReadingTellsApartIsNamed(t *testing.T) {
	for _, c := range []struct {
		name  string
		by    func(string, faulttree.Place) string
		apart bool // two tasks
	}{
		{"one repairs both", func(string, faulttree.Place) string { return "the site's electrician; not you" }, false},
		{"each by another", func(fault string, _ faulttree.Place) string { return "the person for " + fault }, true},
	} {
		h := handbook(forest(false))
		twin := edits("twin-of-open-ground", faulttree.Danger, faulttree.Supply, rig.Edit{Kind: rig.Open, Parts: []string{"feeder.g"}})
		h.Faults = append(h.Faults, twin)
		h.RepairedBy = c.by
		r := run(t, h, "pedestal", trial.Options{Rigs: 3000, Seed: 2})
		twins := func(groups []trial.Together, names ...string) bool {
			return slices.ContainsFunc(groups, func(g trial.Together) bool { return slices.Equal(g.Names, names) && g.Share > 0.1 })
		}
		if !twins(r.Together, "open-ground", "twin-of-open-ground") {
			t.Errorf("%s: not told apart are %+v", c.name, r.Together)
		}
		if slices.ContainsFunc(r.Together, func(g trial.Together) bool {
			return slices.Contains(g.Names, "supply-dead") && slices.Contains(g.Names, "open-ground")
		}) {
			t.Errorf("%s: a dead supply and an open ground are named together: %+v", c.name, r.Together)
		}
		if got := twins(r.TasksTogether, "supply, the person for open-ground", "supply, the person for twin-of-open-ground"); got != c.apart {
			t.Errorf("%s: tasks not told apart are %+v", c.name, r.TasksTogether)
		}
		// Of the faults of the supply both readings together tell all apart but the
		// twins, of which either is named in vain half the time.
		share := 0.0
		for _, g := range r.Together {
			share += g.Share
		}
		if want := 1 - share/2; math.Abs(r.Possible-want) > 1e-9 || share < 0.3 {
			t.Errorf("%s: %.6f is possible; %.6f where twins are %.3f of the faults", c.name, r.Possible, want, share)
		}
		// Where one person repairs all, all is known of what is to be done, and the
		// tree tells it; its first reading alone tells a dead supply from one whose
		// ground is hot as little as its finding does.
		if !c.apart && (r.TaskPossible != 1 || r.TaskOfPossible != 1 || r.TaskError != 0 || r.PossibleAsked != 0.5) {
			t.Errorf("%s: of %.3f that is possible the tree tells %.3f; %.3f is possible with its own readings", c.name, r.TaskPossible, r.TaskOfPossible, r.PossibleAsked)
		}
	}
}
