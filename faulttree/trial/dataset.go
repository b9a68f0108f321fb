package trial

import (
	"slices"

	"faultwright/faulttree"
)

// How many draws orders of asking are found from, and how many others they are
// measured on.
const (
	learnedFrom = grownFrom + chosenBy
	heldOut     = 4000
)

// dataset is what may be asked, and what all of it shows of some draws, to find
// orders from. It is filled while the draws are walked, each slot by one worker,
// and does not depend on which.
type dataset struct {
	slots         []int32              // by draw: where it is kept, -1 for nowhere
	heldOutFrom   int                  // slots from here on are held out
	groups        []int                // by slot: what is wrong, 0 for a sound vehicle
	quantities    []faulttree.Quantity // those open to the owner first
	derived       []derivedValue       // those open to the owner first
	quantityCount [2]int               // by role: how many quantities are open
	derivedCount  [2]int

	// What orders of asking are found from, see orders.go.
	quantityAt map[string]int
	scales     []scale           // of the quantities, then of the sums
	steps      []*faulttree.Step // all that take readings
	stepAt     map[faulttree.Ref]int
	looks      []*faulttree.Step // the observe steps, all that is seen without a meter
	codes      [][]uint8         // by slot: of the quantities, the proof of the meter again, the sums, the looks, the facts
	worst      [2][]worstEnd     // by role and slot
}

// worstEnd is the ending that a walk counts as, and what the walk took.
type worstEnd struct {
	endpoint, cost int
	asked          []askedAt // in order
}

// askedAt is a quantity of the dataset that a walk took, and at which of its steps.
type askedAt struct{ quantity, step uint16 }

// unlisted stands for a step that no exit leads to.
const unlisted = 1<<16 - 1

// derivedValue is a sum or difference that a step makes of its readings.
type derivedValue struct {
	step *faulttree.Step
	of   faulttree.Derived
}

// newDataset chooses at most so many draws to find orders from, and so many that
// are held out, spread evenly over all within the scope.
func (t *trial) newDataset(lessons, tests int) *dataset {
	n := t.plan.inside
	tests = min(tests, n/5)
	lessons = min(lessons, (n-tests)*4/5)
	s := &dataset{slots: make([]int32, n), heldOutFrom: lessons, quantityAt: map[string]int{}}
	learn, held := 0, 0
	for i := range s.slots {
		rest := i - held + 1
		switch {
		case held < tests && i == held*n/tests:
			s.slots[i] = int32(lessons + held)
			held++
		case learn < rest*lessons/(n-tests):
			s.slots[i] = int32(learn)
			learn++
		default:
			s.slots[i] = -1
		}
	}
	s.groups, s.codes = make([]int, lessons+tests), make([][]uint8, lessons+tests)
	for role := range roles {
		s.worst[role] = make([]worstEnd, lessons+tests)
	}
	t.listReadings(s)
	for i, q := range s.quantities {
		s.quantityAt[q.ID] = i
	}
	s.scales = t.scales(s)
	s.stepAt = map[faulttree.Ref]int{}
	for _, step := range t.ahead(faulttree.Qualified) {
		switch {
		case step.Kind == faulttree.KindObserve:
			s.looks = append(s.looks, step)
		case step.Reads():
			s.stepAt[step.Ref()] = len(s.steps)
			s.steps = append(s.steps, step)
		}
	}
	return s
}

// proof is the quantity that proves the meter, -1 where there is none.
func (s *dataset) proof() int {
	return slices.IndexFunc(s.quantities, func(q faulttree.Quantity) bool { return q.Proves == faulttree.ProvesVoltsAC })
}

// listReadings lists the quantities that each role may read on the way through
// the tree, and the sums and differences that its steps make of them.
func (t *trial) listReadings(s *dataset) {
	seen, made := map[string]bool{}, map[*faulttree.Step]bool{}
	for _, role := range roles {
		for _, step := range t.ahead(role) {
			for _, v := range step.Measure {
				if step.Reads() && !seen[v.Quantity.ID] {
					seen[v.Quantity.ID] = true
					s.quantities = append(s.quantities, v.Quantity)
				}
			}
			if made[step] {
				continue
			}
			made[step] = true
			for _, d := range step.Derive {
				s.derived = append(s.derived, derivedValue{step, d})
			}
		}
		s.quantityCount[role], s.derivedCount[role] = len(s.quantities), len(s.derived)
	}
}

// ahead lists the steps that a role can come to from the start of the tree, in
// the order of the way there. An owner does not pass a qualified person's.
func (t *trial) ahead(role faulttree.Role) []*faulttree.Step {
	first := t.plan.tree.Step(t.plan.tree.Start)
	out := []*faulttree.Step{first}
	seen := map[*faulttree.Step]bool{first: true, nil: true}
	for i := 0; i < len(out); i++ {
		for _, e := range out[i].Exits() {
			next := t.forest.Step(e.To)
			if seen[next] || next.For > role {
				continue
			}
			seen[next] = true
			out = append(out, next)
		}
	}
	return out
}

// slot is where a draw is kept, -1 for nowhere.
func (s *dataset) slot(number int) int {
	if number >= len(s.slots) {
		return -1
	}
	return int(s.slots[number])
}

// observe takes what a draw shows to an order of asking.
func (s *dataset) observe(t *trial, k *reader) (err error) {
	if at := s.slot(k.draw.number); at >= 0 {
		s.groups[at] = k.draw.group
		s.codes[at], err = s.coded(t, k)
	}
	return err
}
