package sheet

import (
	"cmp"
	"maps"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
)

// limits lists the values at which branches of the walked steps meet, or rows of
// their charts, with the names the trees give them and their sources. Limits of
// equal size stand together: a branch no longer knows by which name it was written.
func limits(w faulttree.Walk, lib *content.Library) []view.Fact {
	type group struct{ names, sources []string }
	groups := map[string]*group{}
	var out []view.Fact
	var order []string
	var judged []faulttree.Ref
	for _, e := range w.Trail() {
		at := e.Step
		if chart, _, ok := at.Chart(); ok {
			at = chart
		}
		judged = append(judged, at)
		for _, g := range e.Passed {
			judged = append(judged, g.Step)
		}
	}
	for _, at := range judged {
		t := w.Forest().Trees[at.Tree]
		s := w.Forest().Step(at)
		if t == nil || s == nil || !s.Reads() {
			continue
		}
		for _, l := range sorted(t.Limits) {
			if !uses(s, l) {
				continue
			}
			value := l.Value.With(l.Unit)
			g := groups[value]
			if g == nil {
				g = &group{}
				groups[value], order = g, append(order, value)
			}
			g.names = with(g.names, strings.ReplaceAll(l.Name, "-", " "))
			g.sources = with(g.sources, view.SourceText(lib, l.Source))
		}
	}
	for _, value := range order {
		g := groups[value]
		out = append(out, view.Fact{Heading: value + " (" + strings.Join(g.names, ", ") + ")", Text: strings.Join(g.sources, "; ")})
	}
	return out
}

// with adds a word that is not there yet.
func with(list []string, word string) []string {
	if slices.Contains(list, word) {
		return list
	}
	return append(list, word)
}

// uses reports whether a branch or row of s has its edge at l.
func uses(s *faulttree.Step, l faulttree.Limit) bool {
	edge := func(column int, span faulttree.Span) bool {
		unit := l.Unit
		if column < len(s.Measure) {
			unit = s.Measure[column].Quantity.Unit
		}
		return unit.Symbol() == l.Unit.Symbol() && (span.From.Written() == l.Value || span.Below.Written() == l.Value)
	}
	for _, b := range s.Branches {
		for _, bound := range b.Bounds {
			if edge(bound.Var, bound.Span) {
				return true
			}
		}
	}
	if s.Chart == nil {
		return false
	}
	for _, r := range s.Chart.Rows {
		for column, cell := range r.Cells {
			if slices.ContainsFunc(cell.Spans, func(span faulttree.Span) bool { return edge(column, span) }) {
				return true
			}
		}
	}
	return false
}

// sorted lists limits by size, then by name.
func sorted(limits map[string]faulttree.Limit) []faulttree.Limit {
	return slices.SortedFunc(maps.Values(limits), func(a, b faulttree.Limit) int {
		return cmp.Or(cmp.Compare(a.Value, b.Value), cmp.Compare(a.Name, b.Name))
	})
}
