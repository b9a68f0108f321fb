package why

import (
	"cmp"
	"math"
	"math/cmplx"
	"slices"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// wire reports whether a branch is a wire: what holds its two ends together.
func (c circuit) wire(b bench.Branch) bool {
	if b.Part == rig.None {
		return false
	}
	switch c.rig.Parts[b.Part].Kind {
	case rig.Conductor, rig.Joint, rig.Breaker:
		return true
	}
	return false
}

// area is the nodes that wires tie to a node, but for the wire of one part.
func (c circuit) area(node string, but int) []string {
	nodes := []string{node}
	for i := 0; i < len(nodes); i++ {
		for _, b := range c.Branches {
			if !c.wire(b) || b.Part == but {
				continue
			}
			for _, end := range [][2]string{{b.A, b.B}, {b.B, b.A}} {
				if end[0] == nodes[i] && !slices.Contains(nodes, end[1]) {
					nodes = append(nodes, end[1])
				}
			}
		}
	}
	return nodes
}

// way is a branch that leads into an area, and what it carries into it.
type way struct {
	branch bench.Branch
	into   complex128
	along  float64 // the part of it in phase with the largest, negative where it leads out
	outer  string  // its node outside
}

// ways lists the branches that lead into an area, the largest first. All together
// carry nothing; one whose current is not known spoils the balance, and ok is false.
func (c circuit) ways(area []string) (all []way, ok bool) {
	ok = true
	for _, b := range c.Branches {
		a, z := slices.Contains(area, b.A), slices.Contains(area, b.B)
		if a == z {
			continue
		}
		ok = ok && b.Known
		w := way{branch: b, into: b.Amps, outer: b.A}
		if a {
			w.into, w.outer = -b.Amps, b.B
		}
		all = append(all, w)
	}
	slices.SortStableFunc(all, func(x, y way) int { return cmp.Compare(magnitude(y.into), magnitude(x.into)) })
	if len(all) > 0 {
		largest := all[0].into
		for i := range all {
			if s := magnitude(largest); s > 0 {
				all[i].along = real(all[i].into*cmplx.Conj(largest)) / s
			}
		}
	}
	return all, ok
}

// branch is what a part, or a join, is in the circuit; ok is false where it does
// not conduct.
func (c circuit) branch(is func(bench.Branch) bool) (bench.Branch, bool) {
	return lists.Find(c.Branches, is)
}

func isPart(part int) func(bench.Branch) bool {
	return func(b bench.Branch) bool { return b.Part == part }
}

func (a atom) isJoin(b bench.Branch) bool {
	return b.Part == rig.None && b.Fault == a.number && b.Edit == a.edit
}

// step is a branch of a path, and whether it is passed from its second node to its
// first.
type step struct {
	branch bench.Branch
	back   bool
}

// drop is the voltage along a step.
func (s step) drop() complex128 {
	if s.back {
		return -s.branch.Drop
	}
	return s.branch.Drop
}

// widestPath follows a current from one node to another: of all paths the one
// whose smallest current in phase with it is largest. Flow is what a branch carries from
// A to B; it is nil where no path carries any.
func (c circuit) widestPath(from, to string, phase complex128, flow func(bench.Branch) complex128) []step {
	width := map[string]float64{from: math.Inf(1)}
	came := map[string]step{}
	done := map[string]bool{}
	for {
		node, wide := "", 0.0
		for _, b := range c.Branches { // in their order, so that the same path is found each time
			for _, end := range []string{b.A, b.B} {
				if w := width[end]; !done[end] && w > wide {
					node, wide = end, w
				}
			}
		}
		if node == "" || node == to {
			break
		}
		done[node] = true
		for _, b := range c.Branches {
			for _, back := range []bool{false, true} {
				start, end, amps := b.A, b.B, flow(b)
				if back {
					start, end, amps = b.B, b.A, -amps
				}
				along := real(amps * cmplx.Conj(phase))
				if start != node || done[end] || !b.Known || along <= 0 {
					continue
				}
				if w := min(wide, along); w > width[end] {
					width[end], came[end] = w, step{b, back}
				}
			}
		}
	}
	return pathOf(came, from, to)
}

// pathOf is the path to a node, by the step that led to each; nil where none did.
func pathOf(came map[string]step, from, to string) []step {
	var path []step
	for at := to; at != from; {
		s, ok := came[at]
		if !ok {
			return nil
		}
		path = append(path, s)
		at = s.branch.A
		if s.back {
			at = s.branch.B
		}
	}
	slices.Reverse(path)
	return path
}

// mostDrop is the branches of a path over which nine tenths of the voltage drop, in
// the order of the path, but no more of them than most.
func mostDrop(path []step, most int) []step {
	order := slices.Clone(path)
	sum := lists.Sum(path, func(s step) float64 { return magnitude(s.branch.Drop) })
	slices.SortStableFunc(order, func(a, b step) int { return cmp.Compare(magnitude(b.branch.Drop), magnitude(a.branch.Drop)) })
	held, n := 0.0, 0
	for n < min(most, len(order)) && held < 0.9*sum {
		held += magnitude(order[n].branch.Drop)
		n++
	}
	order = order[:n]
	return slices.DeleteFunc(slices.Clone(path), func(s step) bool {
		return !slices.ContainsFunc(order, func(o step) bool { return o.branch == s.branch })
	})
}

// shortestPath is the path from one node to another that passes the fewest parts
// other than wires and sources; nil where there is none.
func (c circuit) shortestPath(from, to string) []step {
	cost := map[string]int{from: 0}
	came := map[string]step{}
	for again := true; again; {
		again = false
		for _, b := range c.Branches {
			if b.Meter {
				continue
			}
			for _, back := range []bool{false, true} {
				start, end := b.A, b.B
				if back {
					start, end = b.B, b.A
				}
				at, ok := cost[start]
				if !ok {
					continue
				}
				if was, met := cost[end]; !met || at+c.cost(b) < was {
					cost[end], came[end], again = at+c.cost(b), step{b, back}, true
				}
			}
		}
	}
	return pathOf(came, from, to)
}

// cost is how unlikely a branch is to be the way that one looks for.
func (c circuit) cost(b bench.Branch) int {
	if b.Part == rig.None || c.wire(b) {
		return 1
	}
	switch c.rig.Parts[b.Part].Kind {
	case rig.Source, rig.Charger:
		return 1
	case rig.Load:
		return 100
	}
	return 1000
}
