package trial

import (
	"cmp"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Unreached lists the findings of the tried trees, in the order of the trees
// and their documents, in which no drawn vehicle ended and that are not among
// those that other walks ended in. One of a fragment, which stands in one place for
// all its uses, is reached by any of them, and listed once.
func Unreached(f *faulttree.Forest, reports []*Report, ended []faulttree.Ref) []faulttree.Ref {
	reached := map[faulttree.Ref]bool{}
	for _, ref := range ended {
		reached[ref] = true
	}
	tried := map[string]bool{}
	for _, r := range reports {
		tried[cmp.Or(r.Own, r.Tree)] = true
		for _, found := range r.Findings {
			if found.Walks > 0 {
				reached[faulttree.ParseRef(found.ID, r.Tree)] = true
			}
		}
	}
	written := map[source.Pos]bool{} // where findings stand that are reached or listed
	for ref := range reached {
		if s := f.Step(ref); s != nil {
			written[s.Pos] = s.Pos.IsValid()
		}
	}
	var out []faulttree.Ref
	for _, id := range f.IDs() {
		if !tried[id] {
			continue
		}
		for _, s := range f.Trees[id].Steps {
			if s.Kind == faulttree.KindFinding && !reached[s.Ref()] && !written[s.Pos] {
				written[s.Pos] = s.Pos.IsValid()
				out = append(out, s.Ref())
			}
		}
	}
	return out
}
