package prove

import (
	"fmt"
	"math/big"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// regions are the readings that each branch of n takes, within the domain;
// false if the step is too broken to tell.
func (p *prover) regions(n *node) (sp space, domain region, branches []region, ok bool) {
	s := n.step
	if sp, ok = newSpace(s); !ok || len(s.Measure) == 0 || tooLarge(s) {
		return sp, nil, nil, false
	}
	sp.all = &p.work
	for _, v := range s.Measure {
		if v.Quantity.Unit == 0 {
			return sp, nil, nil, false
		}
	}
	domain = sp.domain(s)
	for _, b := range s.Branches {
		r := append(region(nil), domain...)
		for _, bound := range b.Bounds {
			if bound.Var < 0 || bound.Var >= len(r) {
				return sp, nil, nil, false
			}
			r[bound.Var] = r[bound.Var].Meet(bound.Span)
		}
		branches = append(branches, r)
	}
	return sp, domain, branches, true
}

// tooLarge reports whether a step with derived values is beyond the proof.
func tooLarge(s *faulttree.Step) bool {
	return len(s.Derive) > 0 && (len(s.Measure) > mostDerivedVars || len(s.Branches) > mostDerivedBranches || len(s.Derive) > mostDerivedValues)
}

// coverage proves that the branches take every reading exactly once.
func (p *prover) coverage(n *node) {
	s := n.step
	if tooLarge(s) {
		d := p.report(n.pos(faulttree.Exit{}), ruleTooComplex,
			"step %s has %d quantities, %d branches and %d derived values; with derived values at most %d, %d and %d are allowed",
			s.ID, len(s.Measure), len(s.Branches), len(s.Derive), mostDerivedVars, mostDerivedBranches, mostDerivedValues)
		d.Hint = "split the step in two"
		return
	}
	sp, domain, all, ok := p.regions(n)
	if !ok {
		return
	}
	var taken []region
	var number []int // of the branch that a taken region belongs to
	for i, r := range all {
		if !sp.mayHold(r) {
			p.report(n.pos(s.Branches[i].Exit), ruleEmptyBranch, "%s takes no reading", branchName(s, i))
			continue
		}
		taken, number = append(taken, r), append(number, i)
	}
	work := min(stepWork, p.work)
	before := work
	var c cover
	if len(s.Derive) > 0 {
		c = sp.comparePolytopes(domain, taken, &work)
	} else {
		c = compareBoxes(domain, taken, &work)
	}
	p.work -= before - max(work, 0)
	for _, o := range c.overlaps {
		p.overlap(n, sp, number[o.first], number[o.second], o.where)
	}
	for _, g := range c.gaps {
		p.gap(n, sp, g)
	}
	if !c.complete {
		p.report(n.pos(faulttree.Exit{}), ruleTooComplex, "the branches of step %s are too complex to prove", s.ID).Hint = "split the step in two"
	}
}

func (p *prover) gap(n *node, sp space, r region) {
	d := p.report(n.pos(faulttree.Exit{}), ruleGap, "no branch takes %s", witness(n.step, sp, r))
	if q := n.step.Measure[0].Quantity; len(n.step.Measure) == 1 && len(n.step.Derive) == 0 {
		d.Hint = "nothing takes " + r[0].Format(q.Unit)
	}
}

func (p *prover) overlap(n *node, sp space, a, b int, r region) {
	s := n.step
	d := p.report(n.pos(s.Branches[b].Exit), ruleOverlap, "%s and %s both take %s", branchName(s, a), branchName(s, b), witness(s, sp, r))
	d.Related = []source.Related{{Pos: n.pos(s.Branches[a].Exit), Message: branchName(s, a) + " stands here"}}
}

// branchName is "branch 2 (to look)".
func branchName(s *faulttree.Step, i int) string {
	if to := s.Branches[i].Text; to != "" {
		return fmt.Sprintf("branch %d (to %s)", i+1, to)
	}
	return fmt.Sprintf("branch %d", i+1)
}

// witness words one reading of r: "30 V on body-earth", or "a = 100 V, b = 140
// V, sum = 240 V" where a step has several quantities.
func witness(s *faulttree.Step, sp space, r region) string {
	point, v := sp.find(r)
	if v != feasible {
		return "some reading"
	}
	if len(s.Measure) == 1 && len(s.Derive) == 0 {
		q := s.Measure[0].Quantity
		return point[0].With(q.Unit) + " on " + q.ID
	}
	var parts []string
	for i, m := range s.Measure {
		parts = append(parts, m.Name+" = "+point[i].With(m.Quantity.Unit))
	}
	for i, d := range s.Derive {
		sum := new(big.Int)
		for k, f := range sp.factors[i] {
			sum.Add(sum, new(big.Int).Mul(big.NewInt(f), big.NewInt(int64(point[k]))))
		}
		if sum.IsInt64() {
			parts = append(parts, d.Name+" = "+faulttree.Amount(sum.Int64()).With(unitOf(s, i)))
		}
	}
	return strings.Join(parts, ", ")
}

// unitOf is the unit of derived value i, the first quantity's where it is not
// given.
func unitOf(s *faulttree.Step, i int) faulttree.Unit {
	if u := s.Derive[i].Unit; u != 0 {
		return u
	}
	return s.Measure[0].Quantity.Unit
}
