package view

import (
	"cmp"
	"maps"
	"slices"

	"faultwright/content"
	"faultwright/faulttree/rig"
)

// Rigs lists the rigs of a handbook by title.
func Rigs(lib *content.Library) []*rig.Rig {
	return slices.SortedFunc(maps.Values(lib.Rigs), func(a, b *rig.Rig) int {
		return cmp.Or(cmp.Compare(a.Title, b.Title), cmp.Compare(a.ID, b.ID))
	})
}

// Drawn reports whether some circuit of a handbook can show a fault.
func Drawn(lib *content.Library, fault string) bool {
	f := lib.Faults[fault]
	return f != nil && f.Edits != nil && slices.ContainsFunc(Rigs(lib), func(r *rig.Rig) bool {
		return slices.ContainsFunc(f.Edits.In(r), rig.Variant.Shows)
	})
}

// RigsOf lists the rigs before which the reader of a tree may stand, by its id or
// by a name of it; all of them if no rig names the tree.
func RigsOf(lib *content.Library, tree string) []*rig.Rig {
	var out []*rig.Rig
	all := Rigs(lib)
	for _, r := range all {
		if slices.ContainsFunc(r.Trees, func(id string) bool {
			t := lib.Forest.Tree(id)
			return id == tree || t != nil && t.Own() == tree
		}) {
			out = append(out, r)
		}
	}
	if len(out) == 0 {
		return all
	}
	return out
}
