package prove

import (
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// smallVolts is the largest limit that the meter's error is compared with.
const smallVolts = 20 * faulttree.One

// limits proves that the named limits of a tree have sources.
func (p *prover) limits(t *faulttree.Tree) {
	for _, name := range slices.Sorted(maps.Keys(t.Limits)) {
		if l := t.Limits[name]; l.Source == "" {
			p.report(firstValid(l.Pos, t.Pos), ruleLimitSource, "limit %s of tree %s has no source", name, t.ID)
		}
	}
}

// bounds looks at every number that the branches of n compare with.
func (p *prover) bounds(n *node) {
	s := n.step
	type compared struct {
		axis  int
		limit faulttree.Amount
	}
	told := map[compared]bool{}
	for _, b := range s.Branches {
		for _, bound := range b.Bounds {
			pos := firstValid(bound.Pos, b.Pos, s.Pos, n.tree.Pos)
			for _, edge := range []faulttree.Amount{bound.Span.From, bound.Span.Below} {
				if edge == faulttree.Lowest || edge == faulttree.Highest || edge == 0 {
					continue
				}
				p.boundSource(n, edge, pos)
				if c := (compared{bound.Var, edge.Written()}); bound.Var >= 0 && bound.Var < len(s.Measure) && !told[c] {
					told[c] = true
					p.smallLimit(n, s.Measure[bound.Var].Quantity, edge.Written(), pos)
				}
			}
		}
	}
}

func (p *prover) boundSource(n *node, edge faulttree.Amount, pos source.Pos) {
	if len(n.step.Sources) > 0 || edge.Written() == 0 {
		return
	}
	for _, l := range n.tree.Limits {
		if l.Value == edge || l.Value == edge.Written() {
			return
		}
	}
	p.report(pos, ruleBoundSource, "step %s compares with %s, which is no named limit of tree %s, and the step has no sources", n.step.ID, edge.Written(), n.tree.ID)
}

// smallLimit demands that the meter can tell readings near a small voltage
// limit apart, read on the smallest range that shows it.
func (p *prover) smallLimit(n *node, q faulttree.Quantity, limit faulttree.Amount, pos source.Pos) {
	if q.Unit != faulttree.VoltsAC && q.Unit != faulttree.VoltsDC || limit.Abs() > smallVolts || limit == 0 {
		return
	}
	m := p.known.Meter
	r := faulttree.Reading{Low: limit, High: limit, Resolution: m.Range(q.Unit, limit).Count}
	if u := m.Uncertainty(r, q); u > limit.Abs()/4 {
		p.report(pos, ruleSmallLimit, "step %s compares %s with %s, where the meter may be off by %s; at most a quarter of the limit is allowed", n.step.ID, q.ID, limit.With(q.Unit), u.With(q.Unit))
	}
}
