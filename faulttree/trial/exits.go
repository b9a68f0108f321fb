package trial

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// ExitReport is which vehicles took one exit of a step: a branch, a row of a
// chart, a choice.
type ExitReport struct {
	Step   string      `json:"step"` // tree#step
	Exit   int         `json:"exit"` // index into [faulttree.Step.Exits]
	Go     string      `json:"go"`   // as it is written
	Pos    source.Pos  `json:"pos"`
	Walks  int         `json:"walks"` // over sound vehicles too
	Sound  int         `json:"sound"` // of these, over sound vehicles
	Faults []ExitPart  `json:"faults"`
	Clears []ExitClear `json:"clears,omitempty"` // the all-clears that this exit decided for
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

// ExitClear is an all-clear and the faults with which an exit decided for it: the
// last row of a chart on the way there, without a chart the last exit.
type ExitClear struct {
	Finding string     `json:"finding"` // tree#step
	Faults  []ExitPart `json:"faults"`
}

// exits counts the walks within the scope, of both roles, that took an exit, by
// what is wrong.
type exits map[exitCell]int

type exitCell struct {
	wrong
	exit  exitKey
	clear int // 0 for all walks, else the all-clear that it decided for, an endpoint and one more
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

// countExits adds what the walks over one draw took. An exit counts once, however
// often and by whichever choice the draw came through.
func (t *trial) countExits(n exits, w wrong, ends []ending) {
	var taken []exitCell
	add := func(key exitKey, clear int) {
		cell := exitCell{w, key, clear}
		if !slices.Contains(taken, cell) {
			taken = append(taken, cell)
			n[cell]++
		}
	}
	for _, end := range ends {
		var decided exitKey
		charted := false
		pass := func(step faulttree.Ref, e faulttree.Exit) {
			if chart, _, ok := step.Chart(); ok {
				if step = chart; e.To == chart {
					return // another column is asked
				}
			}
			key := exitKey{step, e.Text, e.Pos}
			add(key, 0)
			if s := t.forest.Step(step); s != nil && s.Kind == faulttree.KindChart || !charted {
				decided, charted = key, charted || s != nil && s.Kind == faulttree.KindChart
			}
		}
		for _, e := range end.walk.Trail() {
			pass(e.Step, e.Outcome.Exit)
			for _, g := range e.Passed {
				pass(g.Step, g.Outcome.Exit)
			}
		}
		if len(t.endpoints[end.endpoint].finding.Clears) > 0 {
			add(decided, end.endpoint+1)
		}
	}
}

// addExits lists every exit that a step of the tree by readings or choices has,
// and which vehicles took it.
func (t *trial) addExits(r *Report, n exits) {
	by := map[exitKey]map[int]map[wrong]int{}
	for cell, walks := range n {
		if by[cell.exit] == nil {
			by[cell.exit] = map[int]map[wrong]int{}
		}
		if by[cell.exit][cell.clear] == nil {
			by[cell.exit][cell.clear] = map[wrong]int{}
		}
		by[cell.exit][cell.clear][cell.wrong] += walks
	}
	r.Exits = []ExitReport{}
	for _, s := range t.plan.tree.Steps {
		for i, e := range s.Exits() {
			counted := by[exitKey{s.Ref(), e.Text, e.Pos}]
			out := ExitReport{Step: s.Ref().String(), Exit: i, Go: e.Text, Pos: e.Pos, Sound: counted[0][wrong{}], Faults: t.parts(counted[0])}
			for _, walks := range counted[0] {
				out.Walks += walks
			}
			for f := range t.endpoints {
				if some := counted[f+1]; some != nil {
					out.Clears = append(out.Clears, ExitClear{t.endpoints[f].ref.String(), t.parts(some)})
				}
			}
			r.Exits = append(r.Exits, out)
		}
	}
}

// parts lists the faults of some walks, the most frequent first.
func (t *trial) parts(some map[wrong]int) []ExitPart {
	sum := map[faulttree.FaultAt]int{}
	for w, walks := range some {
		for _, at := range t.faultsOf(w) {
			sum[at] += walks
		}
	}
	out := []ExitPart{}
	for at, walks := range sum {
		out = append(out, ExitPart{at.Fault, at.Place, walks})
	}
	slices.SortFunc(out, func(a, b ExitPart) int {
		return cmp.Or(cmp.Compare(b.Walks, a.Walks), a.At().Compare(b.At()))
	})
	return out
}

// Unreached lists the findings of the tried trees, in the order of the trees
// and their documents, in which no drawn vehicle ended and that are not among
// those that other walks ended in. One of a fragment, which stands in one place for
// all its uses, is reached by any of them, and listed once.
func Unreached(f *faulttree.Forest, reports []*Report, ended []faulttree.Ref) []faulttree.Ref {
	reached := map[faulttree.Ref]bool{}
	for _, ref := range ended {
		reached[ref] = true
	}
	tried := map[string]bool{}
	for _, r := range reports {
		tried[cmp.Or(r.Own, r.Tree)] = true
		for _, found := range r.Findings {
			if found.Walks > 0 {
				reached[faulttree.ParseRef(found.ID, r.Tree)] = true
			}
		}
	}
	written := map[source.Pos]bool{} // where findings stand that are reached or listed
	for ref := range reached {
		if s := f.Step(ref); s != nil {
			written[s.Pos] = s.Pos.IsValid()
		}
	}
	var out []faulttree.Ref
	for _, id := range f.IDs() {
		if !tried[id] {
			continue
		}
		for _, s := range f.Trees[id].Steps {
			if s.Kind == faulttree.KindFinding && !reached[s.Ref()] && !written[s.Pos] {
				written[s.Pos] = s.Pos.IsValid()
				out = append(out, s.Ref())
			}
		}
	}
	return out
}
