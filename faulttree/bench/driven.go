package bench

import (
	"faultwright/faulttree/circuit"
	"faultwright/faulttree/loops"
	"faultwright/faulttree/rig"
)

// ways is every way for a current that a vehicle with some faults can have in a state,
// whatever its numbers are and whatever has tripped.
type ways struct {
	faults  int // which; no ways are known where there are none
	edges   [][2]int
	nodes   int
	sources [2][]int // of alternating and of direct current, among the edges
}

// waysIn is the ways in a state with the faults that are in force.
func (b *Bench) waysIn(s *standing) *ways {
	if len(s.ways.edges) > 0 && s.ways.faults == b.faultSet {
		return &s.ways
	}
	w := b.build(key{off: s.off, loads: s.loads, clamp: rig.None})
	s.ways = ways{faults: b.faultSet, nodes: w.net.Nodes()}
	for _, e := range w.net.Elements() { // joins
		s.ways.edges = append(s.ways.edges, [2]int{int(e.A), int(e.B)})
	}
	for i := range b.rig.Parts {
		p := &b.rig.Parts[i]
		if !w.conducts(i, p) {
			continue
		}
		switch {
		case p.Kind == rig.Charger, p.Kind == rig.Source && p.Direct:
			s.ways.sources[1] = append(s.ways.sources[1], len(s.ways.edges))
		case p.Kind == rig.Source:
			s.ways.sources[0] = append(s.ways.sources[0], len(s.ways.edges))
		}
		s.ways.edges = append(s.ways.edges, [2]int{int(w.a[i]), int(w.z[i])})
	}
	return &s.ways
}

// driven reports whether a source of alternating current, or of direct current, lies on a
// loop with a meter between two nodes. Where none does, nothing stands between them.
func (b *Bench) driven(s *standing, direct bool, red, black circuit.Node) bool {
	w := b.waysIn(s)
	sources := w.sources[0]
	if direct {
		sources = w.sources[1]
	}
	if len(sources) == 0 {
		return false
	}
	meter := len(w.edges)
	on := loops.With(meter, append(w.edges[:meter:meter], [2]int{int(red), int(black)}), w.nodes)
	for _, i := range sources {
		if on[i] {
			return true
		}
	}
	return false
}
