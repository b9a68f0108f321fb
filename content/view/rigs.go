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
