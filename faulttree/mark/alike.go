package mark

import (
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// Alike reports whether a quantity reads the same in two states of a rig because
// nothing in which the states differ can make a difference there. A part makes one
// only where it lies on a loop with the meter: what hangs on by a single point
// carries no current of it (the blocks of a graph, by Tarjan's depth-first search).
// Nor does anything make a voltage where no source is on such a loop.
func Alike(r *rig.Rig, q faulttree.Quantity, a, b bench.State) bool {
	if sameState(r, a, b) {
		return true
	}
	if q.Black == "" {
		return false // a clamp: whatever flows there may come from anywhere
	}
	g := &blocks{rig: r, edges: map[string][]edge{}, number: map[string]int{}, low: map[string]int{}}
	g.join(q.Red, q.Black, meterEdge, false)
	for i, p := range r.Parts {
		in, out := conducts(r, p, a), conducts(r, p, b)
		if in || out {
			g.join(p.A, p.B, i, in != out)
		}
	}
	g.visit(q.Red, none)
	return !g.differs || q.Unit != faulttree.Ohms && !g.source
}

// conducts reports whether a part conducts in a state, breakers that trip aside.
func conducts(r *rig.Rig, p rig.Part, st bench.State) bool {
	for _, s := range r.Switches {
		if s.Name == p.Switch && isOff(st, s) {
			return false
		}
	}
	return p.Kind != rig.Load || p.Always || p.Leg == "" || st.Loads[p.Leg]
}

// The meter as a part between the two points, and no part.
const (
	meterEdge = -1
	none      = -2
)

// edge is a part seen from one of its ends.
type edge struct {
	to      string
	part    int
	differs bool // it conducts in one of the states alone
}

// blocks looks for the block of the meter: the parts that lie on a loop with it.
type blocks struct {
	rig     *rig.Rig
	edges   map[string][]edge
	number  map[string]int // by node, in the order of visits, from 1
	low     map[string]int
	stack   []edge
	differs bool // a part of the block of the meter differs
	source  bool // one of it gives current
}

func (g *blocks) join(a, b string, part int, differs bool) {
	g.edges[a] = append(g.edges[a], edge{b, part, differs})
	g.edges[b] = append(g.edges[b], edge{a, part, differs})
}

func (g *blocks) visit(node string, from int) {
	g.number[node] = len(g.number) + 1
	g.low[node] = g.number[node]
	for _, e := range g.edges[node] {
		switch next := g.number[e.to]; {
		case e.part == from:
		case next == 0:
			begin := len(g.stack)
			g.stack = append(g.stack, e)
			g.visit(e.to, e.part)
			g.low[node] = min(g.low[node], g.low[e.to])
			if g.low[e.to] >= g.number[node] {
				g.close(g.stack[begin:])
				g.stack = g.stack[:begin]
			}
		case next < g.number[node]:
			g.stack = append(g.stack, e)
			g.low[node] = min(g.low[node], next)
		}
	}
}

// close looks at a block that is complete.
func (g *blocks) close(block []edge) {
	differs, meter, source := false, false, false
	for _, e := range block {
		if e.part != meterEdge {
			k := g.rig.Parts[e.part].Kind
			source = source || k == rig.Source || k == rig.Charger
		}
		differs = differs || e.differs
		meter = meter || e.part == meterEdge
	}
	g.differs, g.source = g.differs || meter && differs, g.source || meter && source
}
