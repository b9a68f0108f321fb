package load

import (
	"maps"
	"slices"

	"faultwright/content/document"
	"faultwright/faulttree"
)

// mostTreeNames is how many names of a tree are read.
const mostTreeNames = 20

// names reads under which other ids a tree is known, and what is known of a
// reader who comes by one: {pedestal-30a: {title: …, facts: {service: 30a}}}.
func (r *treeReader) names(v document.Value) {
	fields := v.Fields("names")
	if len(fields) > mostTreeNames {
		v.Report(RuleTreeSize, "", "the tree has %d names; at most %d are read", len(fields), mostTreeNames)
		fields = fields[:mostTreeNames]
	}
	for _, f := range fields {
		m := f.Value.Map("a name", "title", "summary", "facts")
		if !f.Value.IsMap() {
			continue
		}
		n := faulttree.Name{ID: f.Key, Title: m.NeedText("title"), Summary: r.tree.Summary, Facts: r.m.given(m.Need("facts")), Pos: f.KeyPos}
		if m.Has("summary") {
			n.Summary = m.Text("summary")
		}
		_, taken := faulttree.Ref{Tree: f.Key}.Fact()
		switch {
		case !idForm.MatchString(f.Key):
			r.diags.Add(f.KeyPos, RuleBadID, "%s cannot name a tree; expected lower-case letters, digits and hyphens", f.Key)
			continue
		case taken:
			r.diags.Add(f.KeyPos, RuleReservedID, "the id %s belongs to the program; choose another", f.Key)
			continue
		}
		for _, fact := range slices.Sorted(maps.Keys(n.Facts)) {
			if fixed := r.tree.Facts[fact]; fixed != "" && fixed != n.Facts[fact] {
				m.Get("facts").Report(RuleBadValue, "", "the name %s is for %s: %s, but the tree is for %s", f.Key, fact, n.Facts[fact], fixed)
			}
		}
		r.part.names = append(r.part.names, n)
	}
}
