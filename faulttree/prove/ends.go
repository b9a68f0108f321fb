package prove

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// exits proves that a step leads on, whatever is answered, and that exits
// show the signal of what they lead to.
func (p *prover) exits(n *node) {
	s := n.step
	missing := func(what string) {
		p.report(n.pos(faulttree.Exit{}), ruleExitMissing, "step %s does not say where %s leads", s.ID, what)
	}
	if s.Kind == faulttree.KindMeasure {
		if !s.OverRange.Set() {
			missing("over-range")
		}
		if !s.NotPossible.Set() {
			missing("a reading that is not possible")
		}
	}
	if s.Kind == faulttree.KindChart && !s.NotPossible.Set() {
		missing("a reading that is not possible")
	}
	if s.Kind == faulttree.KindObserve && len(s.Choices) == 0 {
		missing("any choice")
	}
	if s.Recheck > 0 && !s.Then.Set() {
		p.report(n.pos(faulttree.Exit{}), ruleRecheckThen, "step %s has a recheck of %d and no then", s.ID, s.Recheck)
	}
	if s.Stop() && s.For == faulttree.Qualified {
		p.report(n.pos(faulttree.Exit{}), ruleStopAnyone, "the STOP %s is for qualified people; an owner would be handed over without having read it", s.ID)
	}
	for _, e := range n.edges {
		if !e.Set() {
			missing(exitName(s, e))
			continue
		}
		p.label(n, e)
		if e.kind != byAct && e.Signal != faulttree.Danger && p.leadsToStop(e.to) {
			d := p.report(n.pos(e.Exit), ruleExitSignal, "%s of step %s leads to %s and has the signal %s; expected danger", exitName(s, e), s.ID, e.Text, e.Signal)
			d.Related = []source.Related{{Pos: p.nodes[e.to].step.Pos, Message: e.Text + " stands here"}}
		}
	}
}

// leadsToStop reports whether the step at i is a STOP or a DANGER finding.
func (p *prover) leadsToStop(i int) bool {
	if i < 0 {
		return false
	}
	s := p.nodes[i].step
	return s.Stop() || s.Kind == faulttree.KindFinding && s.Finding.Signal == faulttree.Danger
}

func exitName(s *faulttree.Step, e edge) string {
	switch e.kind {
	case byBranch:
		return branchName(s, e.index)
	case byRow:
		return fmt.Sprintf("row %d (to %s)", e.index+1, e.Text)
	case byChoice:
		return "choice " + s.Choices[e.index].ID
	case byAct:
		return "the act"
	case byOverRange:
		return "over-range"
	case byNotPossible:
		return "not-possible"
	case byNotApplicable:
		return "not-applicable"
	}
	return "then"
}

// reachability proves that every step can be reached. Trees with an exit to
// nowhere, or without a start, are passed over: what is cut off there is the
// consequence of an error reported elsewhere.
func (p *prover) reachability() {
	broken := map[string]bool{}
	for i := range p.nodes {
		for _, e := range p.nodes[i].edges {
			if e.to < 0 {
				broken[e.To.Tree] = true
				broken[p.nodes[i].tree.ID] = true
			}
		}
	}
	started := map[string]bool{}
	for _, i := range p.starts {
		started[p.nodes[i].tree.ID] = true
	}
	roots := slices.Concat(p.starts, p.jumps)
	from := p.reachable(roots, func(*node, edge) bool { return true })
	for i := range p.nodes {
		n := &p.nodes[i]
		if from[i] < 0 && started[n.tree.ID] && !broken[n.tree.ID] {
			p.report(n.pos(faulttree.Exit{}), ruleUnreachable, "step %s is not reached from the start of any tree", n.step.ID)
		}
	}
}

// endings proves that every walk ends. A step with a recheck is passed a
// bounded number of times; from then on only its then is taken. So a walk
// without end exists exactly where there is a loop once each such step keeps
// only its then.
func (p *prover) endings() {
	next := func(i int) []edge {
		n := &p.nodes[i]
		if k := len(n.edges) - 1; k >= 0 && n.edges[k].kind == byThen {
			return n.edges[k:]
		}
		return n.edges
	}
	const fresh, open, closed = 0, 1, 2
	state := make([]uint8, len(p.nodes))
	type place struct{ node, edge int }
	for root := range p.nodes {
		if state[root] != fresh || p.looks < 0 {
			continue
		}
		state[root] = open
		path := []place{{root, 0}}
		for len(path) > 0 {
			top := &path[len(path)-1]
			edges := next(top.node)
			if top.edge == len(edges) {
				state[top.node] = closed
				path = path[:len(path)-1]
				continue
			}
			to := edges[top.edge].to
			top.edge++
			switch {
			case to < 0 || state[to] == closed:
			case state[to] == fresh:
				state[to] = open
				path = append(path, place{to, 0})
			default:
				loop := path[slices.IndexFunc(path, func(at place) bool { return at.node == to }):]
				var ids []string
				for k := range loop {
					if len(loop) > 8 && k == 4 {
						ids = append(ids, "…")
					}
					if len(loop) <= 8 || k < 4 || k >= len(loop)-3 {
						ids = append(ids, p.nodes[loop[k].node].step.ID)
					}
				}
				p.looks -= len(loop)
				p.loop(top.node, edges[top.edge-1], to, ids)
			}
		}
	}
}

// loop reports the loop that the edge e closes.
func (p *prover) loop(at int, e edge, to int, ids []string) {
	n := &p.nodes[at]
	d := p.report(n.pos(e.Exit), ruleEndless, "the loop %s, %s has no end: no step of it has a recheck whose then leaves it",
		strings.Join(ids, ", "), p.nodes[to].step.ID)
	d.Hint = "give a step of the loop a recheck, and a then that leads out"
}
