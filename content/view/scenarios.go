package view

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// Scenarios lists the scenarios of a handbook by what stands there before
// anything is measured, then by title.
func Scenarios(lib *content.Library) []*content.Scenario {
	return slices.SortedFunc(maps.Values(lib.Scenarios), func(a, b *content.Scenario) int {
		return cmp.Or(cmp.Compare(a.Rig.Before(), b.Rig.Before()), cmp.Compare(a.Title, b.Title), cmp.Compare(a.ID, b.ID))
	})
}

// KindsOf words what kind of exercise a scenario is: "one fault, misleading story".
func KindsOf(s *content.Scenario) string {
	return strings.Join(lists.Each(s.Kinds, func(k content.ScenarioKind) string { return strings.ReplaceAll(string(k), "-", " ") }), ", ")
}

// Teaser is the beginning of a scenario's story, a sentence or so.
func Teaser(s *content.Scenario) string {
	const most = 110
	text := strings.Join(strings.Fields(document.Plain(s.Body)), " ")
	if i := strings.IndexAny(text, ".?"); i >= 0 && i < most {
		return text[:i+1]
	}
	if len(text) <= most {
		return text
	}
	cut := strings.LastIndexByte(text[:most], ' ')
	if cut < 0 {
		return ""
	}
	return strings.TrimRight(text[:cut], ",;:") + "…"
}

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
