package asking

import (
	"math"
	"slices"
)

// exact looks for the cheapest plan from a node on by trying every order of a
// few questions; where these tell nothing more, others are asked greedily.
type exact struct {
	*grower
	among []int
	known map[string]*tried // the plans found, by node
}

// tried is the cheapest plan from a node on, and what its cases cost together.
type tried struct {
	plan *Plan
	cost float64
}

// plan is the cheapest plan from n on.
func (e *exact) plan(n node) (*Plan, float64) {
	leaf, charge, known := e.leaf(n)
	if known {
		if q := e.last(n, leaf.Result); q >= 0 {
			return e.through(n, e.needed(n, q), math.Inf(1))
		}
		return leaf, charge
	}
	if e.ctx.Err() != nil {
		return leaf, charge
	}
	key := e.key(n)
	if t := e.known[key]; t != nil {
		return t.plan, t.cost
	}
	open := e.open(n)
	if len(open) == 0 {
		return leaf, charge
	}
	best := &tried{cost: math.Inf(1)}
	for _, q := range questionsOf(open) {
		if !slices.Contains(e.among, q) || e.needed(n, q) != q {
			continue
		}
		if p, cost := e.through(n, q, best.cost); cost < best.cost {
			best = &tried{p, cost}
		}
	}
	if best.plan == nil { // what tells something now told nothing before
		best.plan, best.cost = e.ask(n, e.pick(n, open))
	}
	e.known[key] = best
	return best.plan, best.cost
}

// through is the cheapest plan that asks q at n; it gives up beyond a bound.
func (e *exact) through(n node, q int, bound float64) (*Plan, float64) {
	columns, parts := e.askedAt(n, q)
	p := &Plan{Ask: q, Result: -1, shows: columns, then: map[string]*Plan{}}
	cost := e.price(n, q)
	for _, part := range parts {
		if cost >= bound {
			return nil, math.Inf(1)
		}
		then, c := e.plan(part.node)
		p.then[part.key] = then
		cost += c
	}
	return p, cost
}

// key tells nodes apart below one where everything was tried: by what is known,
// which all cases of the node share.
func (e *exact) key(n node) string {
	out := make([]byte, 0, 3*len(n.seen))
	for c, seen := range n.seen {
		if seen {
			out = append(out, byte(c>>8), byte(c), e.Cases[n.cases[0]].Shows[c])
		}
	}
	if n.stopped {
		out = append(out, 255)
	}
	return string(out)
}
