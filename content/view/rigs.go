package view

import (
	"sort"

	"faultwright/content"
	"faultwright/faulttree/rig"
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

// RigsOf lists the rigs before which the reader of a tree may stand, by its id or
// by a name of it; all of them if no rig names the tree.
func RigsOf(lib *content.Library, tree string) []*rig.Rig {
	var out []*rig.Rig
	all := Rigs(lib)
	for _, r := range all {
		for _, id := range r.Trees {
			if t := lib.Forest.Tree(id); id == tree || t != nil && t.Own() == tree {
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
