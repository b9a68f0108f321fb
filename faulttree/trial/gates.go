package trial

import (
	"slices"

	"faultwright/faulttree"
)

// gates is what all walks of a role keep to, by the quantities of the dataset.
type gates struct {
	taken     []bool   // some walk takes it
	before    [][]bool // the second is taken before the first in every walk that takes the first
	liveFirst []bool   // a live contact that some walk takes before a dead test
	proved    []int    // by endpoint: 1 where every walk that ends there proves its meter again, -1 where one does not, 0 where none ends
}

func newGates(quantities, endpoints int) *gates {
	g := &gates{taken: make([]bool, quantities), liveFirst: make([]bool, quantities), proved: make([]int, endpoints)}
	for range quantities {
		g.before = append(g.before, slices.Repeat([]bool{true}, quantities))
	}
	return g
}

// note takes one walk into account.
func (g *gates) note(d *dataset, e ending) {
	seen := make([]bool, len(g.taken))
	var live []int
	proofs := 0
	for _, entry := range e.walk.Trail() {
		asked := e.walk.Asked(entry.Step)
		for i, r := range entry.Answer.Readings {
			if i >= len(asked.Measure) || r.Quality == faulttree.NotPossible {
				continue
			}
			q, known := d.quantityAt[asked.Measure[i].Quantity.ID]
			if !known {
				continue
			}
			if d.quantities[q].Proves == faulttree.ProvesVoltsAC {
				proofs++
			}
			if seen[q] {
				continue
			}
			switch {
			case touchesLive(d.quantities[q]):
				live = append(live, q)
			case deadTest(d.quantities[q]):
				for _, early := range live {
					g.liveFirst[early] = true
				}
			}
			g.taken[q] = true
			for k := range g.before[q] {
				g.before[q][k] = g.before[q][k] && seen[k]
			}
			seen[q] = true
		}
	}
	switch {
	case proofs < 2:
		g.proved[e.endpoint] = -1
	case g.proved[e.endpoint] == 0:
		g.proved[e.endpoint] = 1
	}
}

func (g *gates) add(o *gates) {
	for q := range g.taken {
		g.taken[q] = g.taken[q] || o.taken[q]
		g.liveFirst[q] = g.liveFirst[q] || o.liveFirst[q]
		for k := range g.before[q] {
			g.before[q][k] = g.before[q][k] && o.before[q][k]
		}
	}
	for e, proved := range o.proved {
		switch {
		case proved < 0:
			g.proved[e] = -1
		case g.proved[e] == 0:
			g.proved[e] = proved
		}
	}
}

// deadTest reports whether q tells a cause with nothing live. The check in volts
// that pins are dead tells none.
func deadTest(q faulttree.Quantity) bool { return q.Unit == faulttree.Ohms && !q.OfMeter() }

// touchesLive reports whether q is a live contact other than the proof of the
// meter.
func touchesLive(q faulttree.Quantity) bool { return q.Exposure.Live() && !q.OfMeter() }
