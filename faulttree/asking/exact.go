package asking

import "math"

// tried is the cheapest plan from a node on, and what its cases cost together.
type tried struct {
	plan *Plan
	cost float64
}

// exact is the cheapest plan from n on, found by trying every order of what is
// open; the same node is looked at once. Known is the plans found so far.
func (g *grower) exact(n node, known map[string]*tried) (*Plan, float64) {
	leaf, charge, isKnown := g.leaf(n)
	if isKnown {
		q := g.last(n, leaf.Result)
		if q < 0 {
			return leaf, charge
		}
		return g.through(n, g.needed(n, q), known, math.Inf(1))
	}
	if g.ctx.Err() != nil {
		return leaf, charge
	}
	key := g.key(n)
	if t := known[key]; t != nil {
		return t.plan, t.cost
	}
	best := &tried{leaf, charge}
	firsts := g.firsts(n, g.open(n))
	for i, q := range firsts {
		bound := best.cost
		if i == 0 {
			bound = math.Inf(1) // what is not known is asked on, whatever it costs
		}
		if p, cost := g.through(n, q, known, bound); i == 0 || cost < best.cost {
			best = &tried{p, cost}
		}
	}
	known[key] = best
	return best.plan, best.cost
}

// through is the cheapest plan that asks q at n; it gives up beyond a bound.
func (g *grower) through(n node, q int, known map[string]*tried, bound float64) (*Plan, float64) {
	columns, parts := g.askedAt(n, q)
	p := &Plan{Ask: q, Result: -1, shows: columns, then: map[string]*Plan{}}
	cost := g.price(n, q)
	for _, part := range parts {
		if cost >= bound {
			return nil, math.Inf(1)
		}
		then, c := g.exact(part.node, known)
		p.then[part.key] = then
		cost += c
	}
	return p, cost
}

// key tells nodes apart below one where everything was tried: by what was asked
// and the first case left, whose answers all the others share.
func (g *grower) key(n node) string {
	out := make([]byte, 0, 2*len(n.seen))
	for c, seen := range n.seen {
		if seen {
			out = append(out, byte(c), g.Cases[n.cases[0]].Shows[c])
		}
	}
	if n.stopped {
		out = append(out, 255, 255)
	}
	return string(out)
}
