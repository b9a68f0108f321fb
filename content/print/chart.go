package print

import (
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/sheet"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// chartOf is a chart alone, with the numbers that it has on the page of its walk, and
// what each row leads to; and where the probes go.
func chartOf(lib *content.Library, s *faulttree.Step) treeSheet {
	t := lib.Forest.Trees[s.Tree]
	p := planOf(lib, t)
	n := p.byStep[s.Ref()]
	if n == nil { // nothing leads to it
		n = &node{Step: s, Code: "1", uses: []*faulttree.Step{s}}
	}
	for _, on := range p.sheets {
		p.readings(on) // which gives the codes
	}
	alone := &sheetPlan{nodes: []*node{n}}
	out := treeSheet{Title: s.Title, Summary: "A chart of the walk “" + t.Title + "”, with the numbers that it has there.", Alone: true}
	out.Danger, out.Kit, out.Readings = p.danger(alone), p.kit(alone), p.readings(alone)
	taken := lists.Each(p.inOrder(n), func(v faulttree.Variable) faulttree.Quantity { return v.Quantity })
	out.Probes = sheet.Probes(taken, lib.Forest.Plug(t.Facts))
	v := p.step(n)
	v.Columns, v.Rows = p.table(n)
	v.Ways = p.ways(n)
	out.Steps = []step{v}
	for _, other := range p.nodes() {
		if !v.leadsTo(other.Code) || other == n {
			continue
		}
		if other.Kind == faulttree.KindFinding {
			out.Findings = append(out.Findings, p.finding(other))
		} else {
			out.Walks = append(out.Walks, door{other.Code, view.Sentence(strings.TrimSuffix(other.Title, "."))})
		}
	}
	for _, d := range p.doorways() {
		if v.leadsTo(d.Code) {
			out.Walks = append(out.Walks, d)
		}
	}
	return out
}

// leadsTo reports whether a row or a way of a step leads to what has this code.
func (s step) leadsTo(code string) bool {
	is := func(to []target) bool { return slices.ContainsFunc(to, func(t target) bool { return t.Code == code }) }
	return slices.ContainsFunc(s.Rows, func(r row) bool { return is(r.To) }) || slices.ContainsFunc(s.Ways, func(w way) bool { return is(w.To) })
}
