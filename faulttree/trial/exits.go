package trial

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// ExitReport is which vehicles took one exit of a step: a branch, a row of a
// chart, a choice.
type ExitReport struct {
	Step   string     `json:"step"` // tree#step
	Exit   int        `json:"exit"` // index into [faulttree.Step.Exits]
	Go     string     `json:"go"`   // as it is written
	Pos    source.Pos `json:"pos"`
	Walks  int        `json:"walks"` // over sound vehicles too
	Sound  int        `json:"sound"` // of these, over sound vehicles
	Faults []ExitPart `json:"faults"`
}

// ExitPart is a fault in a place that took an exit.
type ExitPart struct {
	Fault string          `json:"fault"`
	Place faulttree.Place `json:"place"`
	Walks int             `json:"walks"`
}

// At is the fault and where it sits.
func (p ExitPart) At() faulttree.FaultAt {
	return faulttree.FaultAt{Fault: p.Fault, Place: p.Place}
}

// exits counts the walks within the scope, of both roles, that took an exit, by
// what is wrong.
type exits map[exitCell]int

type exitCell struct {
	wrong
	exit exitKey
}

// exitKey tells the exits of a forest apart. The rows of a chart are others under
// each set of facts, but stand where they stand.
type exitKey struct {
	step faulttree.Ref
	text string
	pos  source.Pos
}

func (n exits) add(o exits) {
	for cell, walks := range o {
		n[cell] += walks
	}
}

// count adds what the walks over one draw took. An exit counts once, however
// often and by whichever choice the draw came through.
func (n exits) count(w wrong, ends []ending) {
	var taken []exitKey
	add := func(step faulttree.Ref, e faulttree.Exit) {
		if chart, _, ok := step.Chart(); ok {
			if step = chart; e.To == chart {
				return // another column is asked
			}
		}
		key := exitKey{step, e.Text, e.Pos}
		if !slices.Contains(taken, key) {
			taken = append(taken, key)
			n[exitCell{w, key}]++
		}
	}
	for _, end := range ends {
		for _, e := range end.walk.Trail() {
			add(e.Step, e.Outcome.Exit)
			for _, g := range e.Weighed {
				add(g.Step, g.Outcome.Exit)
			}
		}
	}
}

// addExits lists every exit that a step of the tree by readings or choices has,
// and which vehicles took it.
func (t *trial) addExits(r *Report, n exits) {
	by := map[exitKey]map[wrong]int{}
	for cell, walks := range n {
		if by[cell.exit] == nil {
			by[cell.exit] = map[wrong]int{}
		}
		by[cell.exit][cell.wrong] += walks
	}
	r.Exits = []ExitReport{}
	for _, s := range t.plan.tree.Steps {
		for i, e := range s.Exits() {
			out := ExitReport{Step: s.Ref().String(), Exit: i, Go: e.Text, Pos: e.Pos, Faults: []ExitPart{}}
			sum := map[faulttree.FaultAt]int{}
			for w, walks := range by[exitKey{s.Ref(), e.Text, e.Pos}] {
				out.Walks += walks
				if w.group == 0 {
					out.Sound += walks
				}
				for _, at := range t.faultsOf(w) {
					sum[at] += walks
				}
			}
			for at, walks := range sum {
				out.Faults = append(out.Faults, ExitPart{at.Fault, at.Place, walks})
			}
			slices.SortFunc(out.Faults, func(a, b ExitPart) int {
				if a.Walks != b.Walks {
					return b.Walks - a.Walks
				}
				return a.At().Compare(b.At())
			})
			r.Exits = append(r.Exits, out)
		}
	}
}
