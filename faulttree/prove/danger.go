package prove

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// danger proves that readings at or above a danger limit, over-range among
// them, lead to a STOP or a DANGER finding, and that no branch hides such a
// reading among others. Where several readings are judged together, a branch that
// leads to no less whatever it takes hides nothing.
func (p *prover) danger(n *node) {
	sp, _, branches, ok := p.regions(n)
	if !ok {
		return
	}
	for v, m := range n.step.Measure {
		limit, limited := n.tree.DangerLimit(m.Quantity.ID)
		if !limited {
			continue
		}
		for i, r := range branches {
			p.dangerBranch(n, sp, i, r, v, limit)
		}
		for _, e := range n.edges {
			if e.kind == byOverRange {
				p.mustStop(n, e, "over-range on "+m.Quantity.ID)
			}
		}
	}
}

func (p *prover) dangerBranch(n *node, sp space, i int, r region, v int, limit faulttree.Amount) {
	q := n.step.Measure[v].Quantity
	narrowed := func(s faulttree.Span) region {
		out := slices.Clone(r)
		out[v] = out[v].Meet(s)
		return out
	}
	hurts := slices.ContainsFunc(q.Harmful(limit), func(h faulttree.Span) bool { return sp.mayHold(narrowed(h)) })
	if !hurts {
		return
	}
	at := slices.IndexFunc(n.edges, func(e edge) bool { return e.kind == byBranch && e.index == i })
	stops := at >= 0 && n.edges[at].Signal == faulttree.Danger && p.stops(n.edges[at].to)
	several := asksSeveral(n.step)
	if !(several && stops) && sp.mayHold(narrowed(q.Harmless(limit))) {
		p.report(n.pos(n.step.Branches[i].Exit), ruleDangerCrossed,
			"%s takes readings of %s on both sides of its danger limit, %s", branchName(n.step, i), q.ID, limit.With(q.Unit)).
			Hint = "end one branch on " + n.step.Measure[v].Name + " at the limit and begin the next there"
		return
	}
	if at >= 0 {
		p.mustStop(n, n.edges[at], branchName(n.step, i)+", at or above the danger limit of "+q.ID+",")
	}
}

// mustStop demands of an exit that it leads to a STOP or DANGER finding, and
// says so. Exits to nowhere are reported by whoever read the document.
func (p *prover) mustStop(n *node, e edge, what string) {
	switch {
	case e.to < 0:
	case !p.stops(e.to):
		d := p.report(n.pos(e.Exit), ruleDangerExit, "%s leads to %s, which is neither a STOP nor a DANGER finding", what, e.Text)
		d.Related = []source.Related{{Pos: p.nodes[e.to].step.Pos, Message: e.Text + " stands here"}}
		if p.nodes[e.to].step.Stop() {
			d.Message = what + " leads to " + e.Text + ", a STOP that passes the walk on to something else when its recheck runs out"
		}
	case e.Signal != faulttree.Danger:
		p.report(n.pos(e.Exit), ruleDangerExit, "%s has the signal %s; expected danger", what, e.Signal)
	}
}

// dangerQuantities looks at the danger limits of a tree as a whole.
func (p *prover) dangerQuantities(t *faulttree.Tree) {
	type points struct {
		red, black string
		unit       faulttree.Unit
	}
	met, limited := map[string]bool{}, map[points]string{}
	var measured []faulttree.Variable
	for _, s := range t.Steps {
		if s == nil || !s.Reads() {
			continue
		}
		measured = append(measured, s.Measure...)
		for _, v := range s.Measure {
			met[v.Quantity.ID] = met[v.Quantity.ID] || open(s)
		}
	}
	for _, id := range t.Dangers() {
		at, declared := t.AtOnce[id]
		_, measured := met[id]
		switch step := t.Step(at); {
		case declared && measured:
			p.report(firstValid(t.Limits[t.Danger[id]].Pos, t.Pos), ruleDangerMet,
				"%s stands under at-once, and a step of tree %s measures it; expected its limit under danger", id, t.ID)
		case declared && step != nil && (step.Reads() || step.Kind == faulttree.KindObserve):
			p.report(firstValid(step.Pos, t.Pos), ruleDangerMet,
				"%s asks for something; expected a step that says what to do at once where %s hurts", at, id)
		case !declared && !met[id]:
			p.report(firstValid(t.Limits[t.Danger[id]].Pos, t.Pos), ruleDangerMet,
				"%s has a danger limit, and no step of tree %s that is open to anyone measures it", id, t.ID)
		}
	}
	for _, v := range measured {
		if _, ok := t.Danger[v.Quantity.ID]; ok {
			limited[points{v.Quantity.Red, v.Quantity.Black, v.Quantity.Unit}] = v.Quantity.ID
		}
	}
	told := map[string]bool{}
	for _, v := range measured {
		q := v.Quantity
		sibling, ok := limited[points{q.Red, q.Black, q.Unit}]
		if _, has := t.Danger[q.ID]; ok && !has && !told[q.ID] {
			told[q.ID] = true
			p.report(firstValid(v.Pos, t.Pos), ruleDangerSibling,
				"%s has no danger limit in tree %s, though %s between the same points has one", q.ID, t.ID, sibling).
				Hint = "add " + q.ID + " under danger"
		}
	}
}
