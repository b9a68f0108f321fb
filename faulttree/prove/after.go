package prove

import (
	"cmp"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// afterStop proves that from a STOP on nothing live is measured on the
// vehicle and nothing but DANGER is found. Work handed over to a qualified
// person ends the walk and is accepted.
func (p *prover) afterStop() {
	var stops []int
	for i := range p.nodes {
		if p.nodes[i].step.Stop() {
			stops = append(stops, i)
		}
	}
	from := p.reachable(stops, func(*node, edge) bool { return true })
	for i := range p.nodes {
		if from[i] < 0 {
			continue
		}
		n := &p.nodes[i]
		stop := &p.nodes[rootOf(from, i)]
		related := []source.Related{{Pos: stop.step.Pos, Message: "the STOP stands here"}}
		switch s := n.step; s.Kind {
		case faulttree.KindMeasure, faulttree.KindChart:
			for _, v := range s.Measure {
				if v.Quantity.ID != "" && !v.Quantity.AllowedAfterStop() {
					d := p.report(firstValid(v.Pos, s.Pos), ruleStopMeasure, "step %s asks for %s after the STOP %s: by %s", s.ID, v.Quantity.ID, stop.step.ID, p.pathWords(from, i))
					d.Related = related
					d.Hint = "after a STOP only the supply, or an unplugged vehicle, is measured"
				}
			}
		case faulttree.KindFinding:
			if s.Finding.Signal != faulttree.Danger {
				d := p.report(firstValid(s.Pos, n.tree.Pos), ruleStopFinding, "finding %s has the signal %s and is reached after the STOP %s: by %s", s.ID, s.Finding.Signal, stop.step.ID, p.pathWords(from, i))
				d.Related = related
			}
		}
	}
}

// bodyEarth proves that no walk from a tree's start reads the body against the
// earth spike before a live contact was read against the same spike: without
// that, a low body reading may be a dry spike, a broken lead or a wrong
// function. A proof that was not possible proves nothing; where such a proof is
// asked for again until its recheck runs out, its then is not proved either.
func (p *prover) bodyEarth() {
	spike := p.forest.Quantities.Proving(faulttree.ProvesSpike)
	proof := cmp.Or(spike.ID, "a quantity that proves the spike")
	exhausted := map[*node]bool{}
	unproved := func(n *node, e edge) bool {
		return !n.provesSpike() || e.kind == byNotPossible || e.kind == byNotApplicable || e.kind == byThen && exhausted[n]
	}
	from := p.reachable(p.starts, unproved)
	for again := true; again && p.looks >= 0; {
		again = false
		for i := range p.nodes {
			n := &p.nodes[i]
			if p.looks >= 0 && from[i] >= 0 && n.step.Recheck > 0 && n.provesSpike() && !exhausted[n] && p.returns(i, unproved) {
				exhausted[n], again = true, true
			}
		}
		if again {
			from = p.reachable(p.starts, unproved)
		}
	}
	for i := range p.nodes {
		n := &p.nodes[i]
		if from[i] < 0 || !n.step.Reads() {
			continue
		}
		for _, v := range n.step.Measure {
			if v.Quantity.Proves == faulttree.ProvesSpike && n.step.Kind == faulttree.KindMeasure {
				break // read before the body in the same step
			}
			if !p.readsBody(v.Quantity, spike) {
				continue
			}
			d := p.report(firstValid(v.Pos, n.step.Pos), ruleBodyEarth, "step %s reads %s where %s may not have been read: by %s", n.step.ID, v.Quantity.ID, proof, p.pathWords(from, i))
			d.Hint = "read " + proof + " first, and do not come here when it was not possible"
			break
		}
	}
}

// returns reports whether a walk comes back to node i by edges that follow
// allows.
func (p *prover) returns(i int, follow func(*node, edge) bool) bool {
	var next []int
	for _, e := range p.nodes[i].edges {
		if e.to >= 0 && follow(&p.nodes[i], e) {
			next = append(next, e.to)
		}
	}
	return p.reachable(next, follow)[i] >= 0
}

// readsBody reports whether q is what a hand may touch to the spike, in volts
// and under any condition. What the handbook does not say, which point is
// touched or what proves the spike, may be any; of neither a live contact on the
// body counts.
func (p *prover) readsBody(q, spike faulttree.Quantity) bool {
	body, soil := p.forest.Touch.Point, spike.Black
	on := func(point string) bool { return point == "" || q.Red == point || q.Black == point }
	return q.Unit == faulttree.VoltsAC && !q.OffVehicle && on(body) && on(soil) && (body+soil != "" || q.Exposure == faulttree.AtBody)
}

// meterProof proves that whatever way leads to an all-clear, the last thing
// measured on it was the meter itself, on a source known to be live. A proof
// that showed over-range or was not possible proves nothing, and neither does
// a step that is passed over because its recheck has run out.
func (p *prover) meterProof() {
	proof := cmp.Or(p.forest.Quantities.Proving(faulttree.ProvesVoltsAC).ID, "a quantity that proves ac-volts")
	roots := append(append([]int(nil), p.starts...), p.jumps...)
	reached := p.reachable(roots, func(*node, edge) bool { return true })
	unproved := append([]int(nil), p.starts...)
	for i := range p.nodes {
		if reached[i] >= 0 && p.nodes[i].step.Reads() {
			unproved = append(unproved, i)
		}
	}
	from := p.reachable(unproved, func(n *node, e edge) bool {
		switch {
		case !n.step.Reads():
			return true
		case !provesMeter(n.step):
			return true
		}
		return e.kind == byOverRange || e.kind == byNotPossible || e.kind == byNotApplicable || e.kind == byThen
	})
	for i := range p.nodes {
		s := p.nodes[i].step
		if from[i] < 0 || s.Kind != faulttree.KindFinding || len(s.Finding.Clears) == 0 {
			continue
		}
		d := p.report(firstValid(s.Pos, p.nodes[i].tree.Pos), ruleMeterProof, "finding %s clears a place, and the last thing measured before it may be other than %s: by %s", s.ID, proof, p.pathWords(from, i))
		d.Hint = "measure " + proof + " just before the finding"
	}
}

// provesMeter reports whether the last reading that s takes is the meter proof.
func provesMeter(s *faulttree.Step) bool {
	k := len(s.Measure) - 1 // a chart asks in an order of its own
	return s.Kind == faulttree.KindMeasure && k >= 0 && s.Measure[k].Quantity.Proves == faulttree.ProvesVoltsAC && (k == 0 || len(s.Measure[k].Quantity.Needs) == 0)
}
