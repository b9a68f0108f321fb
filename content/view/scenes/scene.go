package scenes

import (
	"maps"
	"slices"
	"sort"
	"strings"

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
		b.BodyLimit, b.Facts, b.Limits = lib.Forest.Touch.From, lib.Forest.Facts, limits(lib)
	}
	return b
}

// limits are the alternating voltages between two test points that the trees of a
// handbook declare to be a danger while it is supplied, of equal pairs the lowest. What a
// hot may stand above the neutral of an outlet or a source it may stand above it
// anywhere, and so with a neutral and the ground of an outlet.
func limits(lib *content.Library) []scene.Limit {
	lowest := map[[2]string]faulttree.Amount{}
	var over, raised faulttree.Amount
	for _, t := range lib.Forest.Trees {
		for id := range t.Danger {
			q, known := lib.Forest.Quantities[id]
			from, limited := t.DangerLimit(id)
			if !known || !limited || q.Unit != faulttree.VoltsAC || q.Has(faulttree.Unplugged) || q.Red == lib.Forest.Touch.Point {
				continue
			}
			if pair := [2]string{q.Red, q.Black}; lowest[pair] == 0 || from < lowest[pair] {
				lowest[pair] = from
			}
			if hotToNeutral(q.Red, q.Black) && (over == 0 || from < over) {
				over = from
			}
			if neutralOff(q.Red, q.Black) && (raised == 0 || from < raised) {
				raised = from
			}
		}
	}
	for id := range lib.Points {
		if n := rig.Group(id) + ".n"; over > 0 && hotToNeutral(id, n) && lib.Points[n].ID != "" {
			lowest[[2]string{id, n}] = over
		}
		for _, from := range []string{rig.Group(id) + ".g", "earth"} {
			if raised > 0 && neutralOff(id, from) && lib.Points[from].ID != "" {
				lowest[[2]string{id, from}] = raised
			}
		}
	}
	var out []scene.Limit
	for _, pair := range slices.SortedFunc(maps.Keys(lowest), func(a, b [2]string) int { return slices.Compare(a[:], b[:]) }) {
		out = append(out, scene.Limit{Red: pair[0], Black: pair[1], From: lowest[pair], Burns: hotToNeutral(pair[0], pair[1])})
	}
	return out
}

// neutralOff reports whether two test points are a neutral and what it is to stand at:
// the ground of its place, or earth.
func neutralOff(red, black string) bool {
	return strings.HasSuffix(red, ".n") && (black == "earth" || black == rig.Group(red)+".g")
}

// hotToNeutral reports whether two test points are a hot and the neutral of one
// place.
func hotToNeutral(red, black string) bool {
	group, wire, _ := strings.Cut(red, ".")
	return slices.Contains([]string{"h", "l1", "l2"}, wire) && black == group+".n"
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
