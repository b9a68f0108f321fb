package view

import (
	"sort"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

// Rigs lists the rigs of a handbook by title.
func Rigs(lib *content.Library) []*rig.Rig {
	out := make([]*rig.Rig, 0, len(lib.Rigs))
	for _, r := range lib.Rigs {
		out = append(out, r)
	}
	sort.Slice(out, func(i, j int) bool {
		if out[i].Title != out[j].Title {
			return out[i].Title < out[j].Title
		}
		return out[i].ID < out[j].ID
	})
	return out
}

// RigsOf lists the rigs before which the reader of a tree may stand; all of
// them if no rig names the tree.
func RigsOf(lib *content.Library, tree string) []*rig.Rig {
	var out []*rig.Rig
	all := Rigs(lib)
	for _, r := range all {
		for _, id := range r.Trees {
			if id == tree {
				out = append(out, r)
				break
			}
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}

// SceneBook is what a scene takes from a handbook: the catalogue by title, the
// test points, the smallest limit of a tree beyond which the body can hurt.
func SceneBook(lib *content.Library, m faulttree.Meter) scene.Book {
	b := scene.Book{Points: lib.Points, Meter: m}
	for _, f := range lib.Faults {
		if f.Edits != nil {
			b.Faults = append(b.Faults, f.Edits)
		}
	}
	sort.Slice(b.Faults, func(i, j int) bool { return b.Faults[i].Title < b.Faults[j].Title })
	if lib.Forest != nil {
		for _, t := range lib.Forest.Trees {
			if limit, ok := t.DangerLimit("body-earth"); ok && (b.Danger == 0 || limit < b.Danger) {
				b.Danger = limit
			}
		}
	}
	return b
}

// TakenIn lists the readings of a walk, the last of each quantity.
func TakenIn(w faulttree.Walk) []scene.Taken {
	var out []scene.Taken
	for _, l := range LastReadings(w) {
		if r := l.Reading; r.Quality != faulttree.NotPossible {
			out = append(out, scene.Taken{Quantity: l.Quantity, Text: r.Show(l.Quantity.Unit), Value: (r.Low + r.High) / 2, Numeric: r.Numeric()})
		}
	}
	return out
}

// Capital is a text with a capital at its beginning.
func Capital(text string) string { return capital(text) }
