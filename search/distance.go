package search

import (
	"slices"

	"faultwright/content/contact"
	"faultwright/faulttree"
)

// measures reports whether a tree reads at a point of this kind.
func measures(t *faulttree.Tree, kind func(contact.Point) bool) bool {
	for _, s := range t.Steps {
		for _, v := range s.Measure {
			if kind(contact.PointOf(v.Quantity.Red)) || kind(contact.PointOf(v.Quantity.Black)) {
				return true
			}
		}
	}
	return false
}

func atLeg2(p contact.Point) bool      { return p.Contact == contact.L2 }
func atOwnSource(p contact.Point) bool { return p.Place == "generator" || p.Place == "inverter" }

// ofOwnSource reports whether a generator or an inverter is said.
func ofOwnSource(s contact.Said) bool {
	return atOwnSource(contact.Point{Place: s.Site}) || slices.ContainsFunc(s.Points, atOwnSource)
}

// unreached is the distance of a step that no exit within the tree leads to.
const unreached = 1000

// forReadings reports whether a step reads what has a danger limit in its tree.
// Where no exit leads to such a step, it is there for a reading that somebody
// already has, so it lies nearest of all to a figure that is searched for.
func forReadings(t *faulttree.Tree, s *faulttree.Step) bool {
	return slices.ContainsFunc(s.Measure, func(v faulttree.Variable) bool {
		_, limited := t.DangerLimit(v.Quantity.ID)
		return limited
	})
}

// distances tells how far each step lies from the tree's start. An exit that
// signals nothing is one pace, a graver one several, so that of two steps that
// measure the same the ordinary one is nearer than the one after a STOP.
func distances(t *faulttree.Tree) map[string]int {
	far := map[string]int{}
	for _, s := range t.Steps {
		far[s.ID] = unreached
	}
	far[t.Start] = 0
	for changed, rounds := true, 0; changed && rounds < len(t.Steps); rounds++ {
		changed = false
		for _, s := range t.Steps {
			for _, e := range s.Exits() {
				to := far[s.ID] + 1 + 3*int(e.Signal)
				if old, here := far[e.To.Step]; here && e.To.Tree == t.ID && to < old {
					far[e.To.Step], changed = to, true
				}
			}
		}
	}
	for _, s := range t.Steps {
		if far[s.ID] == unreached && forReadings(t, s) {
			far[s.ID] = 0
		}
	}
	return far
}
