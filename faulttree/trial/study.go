package trial

import (
	"math"
	"slices"

	"faultwright/faulttree"
)

// study is what the reasoner is given: every reading of some draws to learn
// from and of others held out. It is filled while the draws are walked, each
// slot by one worker, and does not depend on which.
type study struct {
	slots      []int32 // by draw: where its evidence goes, -1 for nowhere
	held       int     // slots from here on are held out
	evidence   []evidence
	quantities []faulttree.Quantity // those open to the owner first
	derived    []sum                // those open to the owner first
	single     [2]int               // by role: how many quantities are open
	sums       [2]int
	credits    [2][]float64 // by role: what the tree earns for each draw held out
}

// sum is a sum or difference that a step makes of its readings.
type sum struct {
	step *faulttree.Step
	of   faulttree.Derived
}

// newStudy chooses the draws, spread evenly over all within the scope.
func (t *trial) newStudy() *study {
	n := t.plan.inside
	s := &study{slots: make([]int32, n)}
	for i := range s.slots {
		s.slots[i] = -1
	}
	tests := min(heldOut, n/5)
	for i := range tests {
		s.slots[i*n/tests] = 0
	}
	learn, every := int32(0), max(1, (n+drawnRigs-1)/drawnRigs)
	for i, rest := 0, 0; i < n; i++ {
		if s.slots[i] == 0 {
			continue
		}
		if rest%every == 0 {
			s.slots[i] = learn
			learn++
		} else {
			s.slots[i] = -1
		}
		rest++
	}
	s.held = int(learn)
	for i := range tests {
		s.slots[i*n/tests] = learn + int32(i)
	}
	s.evidence = make([]evidence, s.held+tests)
	for role := range roles {
		s.credits[role] = make([]float64, tests)
	}
	t.open(s)
	return s
}

// open lists the quantities that each role may read on the way through the
// tree, and the sums and differences that its steps make of them.
func (t *trial) open(s *study) {
	seen := map[string]bool{}
	for _, role := range roles {
		for _, id := range t.forest.Reached(t.plan.tree.ID) {
			tree := t.forest.Trees[id]
			if tree == nil {
				continue
			}
			for _, step := range tree.Steps {
				if step.Kind != faulttree.KindMeasure || step.For != role {
					continue
				}
				for _, v := range step.Measure {
					if !seen[v.Quantity.ID] {
						seen[v.Quantity.ID] = true
						s.quantities = append(s.quantities, v.Quantity)
					}
				}
				for _, d := range step.Derive {
					s.derived = append(s.derived, sum{step, d})
				}
			}
		}
		s.single[role], s.sums[role] = len(s.quantities), len(s.derived)
	}
}

// slot is where the evidence of a draw goes.
func (s *study) slot(number int) int {
	if number >= len(s.slots) {
		return -1
	}
	return int(s.slots[number])
}

// credit keeps what the tree earns for a draw held out.
func (s *study) credit(t *trial, fault, number int, role faulttree.Role, ends []ending) {
	at := s.slot(number) - s.held
	if at < 0 {
		return
	}
	least := 1.0
	for _, e := range ends {
		least = min(least, t.credit(fault, e.finding))
	}
	s.credits[role][at] = least
}

// take takes every reading of a draw. Values are on a scale where small ones
// stand apart as large ones do; over-range lies above all, not taken below.
func (s *study) take(k *taker) {
	at := s.slot(k.draw.number)
	if at < 0 {
		return
	}
	e := evidence{fault: k.draw.fault, values: make([]float32, 0, len(s.quantities)+len(s.derived))}
	for _, q := range s.quantities {
		e.values = append(e.values, scaled(k.reading(q, 1)))
	}
	for _, d := range s.derived {
		total, fine := faulttree.Amount(0), true
		for _, term := range d.of.Terms {
			r := k.reading(d.step.Measure[term.Var].Quantity, 1)
			fine = fine && r.Numeric()
			total += r.High * faulttree.Amount(term.Factor)
		}
		if !fine {
			e.values = append(e.values, notTaken)
			continue
		}
		e.values = append(e.values, scaled(faulttree.Reading{Low: total, High: total}))
	}
	s.evidence[at] = e
}

// of is the evidence as a role sees it, to learn from and held out: its
// quantities first, then the sums.
func (s *study) of(role faulttree.Role) (learn, held []evidence) {
	all := make([]evidence, len(s.evidence))
	for i, e := range s.evidence {
		values := e.values
		if role == faulttree.Owner {
			first := len(s.quantities)
			values = slices.Concat(e.values[:s.single[role]], e.values[first:first+s.sums[role]])
		}
		all[i] = evidence{e.fault, values}
	}
	return all[:s.held], all[s.held:]
}

const (
	notTaken = -1000
	overTop  = 1000
)

func scaled(r faulttree.Reading) float32 {
	switch r.Quality {
	case faulttree.NotPossible:
		return notTaken
	case faulttree.OverRange:
		return overTop
	}
	return float32(math.Asinh(r.High.Float() / 0.1))
}
