package flow

import (
	"slices"

	"faultwright/faulttree"
)

// Along is the graph with the way of a walk marked, and where it stands.
func (g Graph) Along(w faulttree.Walk) Graph {
	g.Nodes = slices.Clone(g.Nodes)
	for i := range g.Nodes {
		g.Nodes[i].Rows = slices.Clone(g.Nodes[i].Rows)
	}
	for _, e := range w.Trail() {
		g.mark(e.Step, e.Outcome.Exit)
		g.follow(w, e)
	}
	here := w.At()
	if chart, _, ok := here.Chart(); ok {
		here = chart
	}
	if i := g.Index(here); i >= 0 {
		g.Nodes[i].Walked, g.Nodes[i].Here = true, true
	}
	return g
}

// mark marks a step as walked, with the row by which it was left. A column of a chart
// leaves it only once the row is known.
func (g Graph) mark(at faulttree.Ref, exit faulttree.Exit) {
	if chart, _, ok := at.Chart(); ok {
		at = chart
	}
	i := g.Index(at)
	if i < 0 {
		return
	}
	g.Nodes[i].Walked = true
	for k, r := range g.Nodes[i].Rows {
		if r.exit == exit {
			g.Nodes[i].Rows[k].Walked = true
			g.Nodes[r.To].Walked = true
		}
	}
}

// follow marks what the walk went through after an answer without asking anything: charts
// that were known by then, steps at which the vehicle has nothing to measure, and those
// that were read as often as they may be.
func (g Graph) follow(w faulttree.Walk, e faulttree.Entry) {
	at := e.Outcome.To
	for range len(g.Nodes) {
		s := w.Forest().Step(at)
		if at == e.Next || s == nil {
			return
		}
		exit := s.Then
		if s.Reads() && len(s.Under(w.Fact).Measure) == 0 {
			exit = s.NotApplicable
		}
		for _, p := range e.Passed {
			if p.Step == at {
				exit = p.Outcome.Exit
			}
		}
		g.mark(at, exit)
		at = exit.To
	}
}
