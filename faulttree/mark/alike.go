package mark

import (
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/loops"
	"faultwright/faulttree/rig"
)

// Alike reports whether a quantity reads the same in two states of a rig because
// nothing in which the states differ can make a difference there. A part makes one
// only where it lies on a loop with the meter: what hangs on by a single point carries no
// current of it. Nor does anything make a voltage where no source is on such a loop.
func Alike(r *rig.Rig, q faulttree.Quantity, a, b bench.State) bool {
	if sameState(r, a, b) {
		return true
	}
	if q.Black == "" {
		return false // a clamp: whatever flows there may come from anywhere
	}
	nodes := map[string]int{}
	node := func(name string) int {
		n, known := nodes[name]
		if !known {
			n = len(nodes)
			nodes[name] = n
		}
		return n
	}
	meter := [2]int{node(q.Red), node(q.Black)}
	var edges [][2]int
	var parts []int
	for i, p := range r.Parts {
		if conducts(r, p, a) || conducts(r, p, b) {
			edges, parts = append(edges, [2]int{node(p.A), node(p.B)}), append(parts, i)
		}
	}
	on := loops.With(len(edges), append(edges, meter), len(nodes))
	differs, source := false, false
	for n, i := range parts {
		if p := r.Parts[i]; on[n] {
			differs = differs || conducts(r, p, a) != conducts(r, p, b)
			source = source || p.Kind == rig.Source || p.Kind == rig.Charger
		}
	}
	return !differs || q.Unit != faulttree.Ohms && !source
}

// conducts reports whether a part conducts in a state, breakers that trip in it aside.
func conducts(r *rig.Rig, p rig.Part, st bench.State) bool {
	for _, s := range r.Switches {
		if s.Name == p.Switch && isOff(st, s) {
			return false
		}
	}
	if p.Kind == rig.Breaker && st.Tripped[p.Run] {
		return false
	}
	return p.Kind != rig.Load || p.Always || p.Leg == "" || st.Loads[p.Leg]
}
