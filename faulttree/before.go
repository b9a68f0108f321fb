package faulttree

import (
	"slices"

	"faultwright/faulttree/lists"
)

// Before lists by quantity what every tree that asks it of a role asks first: on
// each way from the start of a tree, or of the trees that lead there, whatever is
// answered. A quantity that no step asks of the role is not in it. What a chart
// asks counts as read behind the chart, and within it before what is gated by it.
func (f *Forest) Before(role Role) map[string][]string {
	steps := f.asking(role, f.IDs(), func(*Step) bool { return false })
	out := map[string][]string{}
	var all []string
	for _, s := range steps {
		for _, v := range s.Measure {
			if _, met := out[v.Quantity.ID]; !met {
				all, out[v.Quantity.ID] = append(all, v.Quantity.ID), nil
			}
		}
	}
	slices.Sort(all)
	for _, first := range all {
		early := map[string]bool{first: true} // what is asked on some way that has not come by it
		for _, s := range f.asking(role, f.IDs(), func(s *Step) bool { return s.Measures(first) >= 0 }) {
			at := s.Measures(first)
			for c, v := range s.Measure {
				if at < 0 || s.Chart == nil || !slices.Contains(s.Chart.behind(c), at) {
					early[v.Quantity.ID] = true
				}
			}
		}
		for _, id := range all {
			if !early[id] {
				out[id] = append(out[id], first)
			}
		}
	}
	return out
}

// AskedFirst lists the quantities that a tree asks of a role, on some way from its
// start, before any of those that can wait. A chart asks what can wait before the rest
// of it.
func (f *Forest) AskedFirst(tree string, role Role, waits func(Quantity) bool) []string {
	asksFirst := func(s *Step) bool {
		return slices.ContainsFunc(s.Measure, func(v Variable) bool { return waits(v.Quantity) })
	}
	var out []string
	for _, s := range f.asking(role, []string{tree}, asksFirst) {
		for _, v := range s.Measure {
			if !asksFirst(s) {
				out = lists.With(out, v.Quantity.ID)
			}
		}
	}
	return out
}

// asking lists the steps that a role can come to from the starts of trees without
// passing one where it ends; those themselves among them.
func (f *Forest) asking(role Role, trees []string, ends func(*Step) bool) []*Step {
	var out []*Step
	seen := map[*Step]bool{nil: true}
	visit := func(s *Step) {
		if !seen[s] && s.For <= role {
			seen[s] = true
			out = append(out, s)
		}
	}
	for _, id := range trees {
		if t := f.Tree(id); t != nil {
			visit(t.Step(t.Start))
		}
	}
	for i := 0; i < len(out); i++ {
		if ends(out[i]) {
			continue
		}
		for _, e := range out[i].Exits() {
			visit(f.Step(e.To))
		}
	}
	return out
}

// behind lists every column of c that must be read before a column.
func (c *Chart) behind(column int) []int {
	out := c.gated(column)
	for i := 0; i < len(out); i++ {
		for _, g := range c.gated(out[i]) {
			out = lists.With(out, g)
		}
	}
	return out
}
