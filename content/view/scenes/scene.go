package scenes

import (
	"sort"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

// Book is what a scene takes from a handbook: the catalogue by title, the
// test points, the limit from which on the body can hurt.
func Book(lib *content.Library, m faulttree.Meter) scene.Book {
	b := scene.Book{Points: lib.Points, Meter: m}
	for _, f := range lib.Faults {
		if f.Edits != nil {
			b.Faults = append(b.Faults, f.Edits)
		}
	}
	sort.Slice(b.Faults, func(i, j int) bool { return b.Faults[i].Title < b.Faults[j].Title })
	if lib.Forest != nil {
		b.BodyLimit, b.Facts = lib.Forest.Touch.From, lib.Forest.Facts
	}
	return b
}

// TakenOf lists the readings of an account's present round.
func TakenOf(a view.Account) []scene.Taken {
	var out []scene.Taken
	for _, e := range a.Evidence {
		if e.Quantity.ID != "" && e.Round == a.Round() && e.Reading.Quality != faulttree.NotPossible {
			out = append(out, scene.Taken{Quantity: e.Quantity, Reading: e.Reading})
		}
	}
	return out
}

// CaseShown puts the vehicle of a practice on show as it stands when the
// learner comes, with everything that was hidden.
func CaseShown(lib *content.Library, c practice.Case, m faulttree.Meter) (scene.Explanation, error) {
	v, err := c.Begin(m)
	if err != nil {
		return scene.Explanation{}, err
	}
	return scene.Same(c.Rig, Book(lib, m), rig.Setup{Values: c.Values, Faults: c.Faults}, v.State())
}
