package trial

import (
	"slices"

	"faultwright/faulttree"
)

// dataset is what the classifier is given: every reading of some draws to learn
// from, of healthy ones that it did not learn from, and of others held out. It
// is filled while the draws are walked, each slot by one worker, and does not
// depend on which.
type dataset struct {
	slots           []int32 // by draw: where its observation goes, -1 for nowhere
	calibrationFrom int     // slots from here on are healthy and not learned from
	heldOutFrom     int     // slots from here on are held out
	observations    []observation
	quantities      []faulttree.Quantity // those open to the owner first
	derived         []derivedValue       // those open to the owner first
	quantityCount   [2]int               // by role: how many quantities are open
	derivedCount    [2]int
	credits         [2][]float64 // by role: what the tree earns for each draw held out
	heldEnds        [2][][]int32 // by role: the endpoints of each draw held out
	ends            [2][]int32   // by role and slot: the finding of no fault that the draw reached, -1 for none

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

// newDataset chooses the draws, spread evenly over all within the scope, and all
// healthy ones that are left.
func (t *trial) newDataset() *dataset {
	n := t.plan.inside
	tests := min(heldOut, n/5)
	lessons := min(learnedFrom, (n-tests)*4/5)
	var learn, unseen, held []int
	for i, rest := 0, 0; i < n; i++ {
		if len(held) < tests && i == len(held)*n/tests {
			held = append(held, i)
			continue
		}
		rest++
		if len(learn) < rest*lessons/(n-tests) {
			learn = append(learn, i)
		} else if d, ok := t.plan.stratumOf(i); ok && d.fault < 0 {
			unseen = append(unseen, i)
		}
	}
	s := &dataset{slots: make([]int32, n), calibrationFrom: len(learn), heldOutFrom: len(learn) + len(unseen)}
	for i := range s.slots {
		s.slots[i] = -1
	}
	for slot, i := range slices.Concat(learn, unseen, held) {
		s.slots[i] = int32(slot)
	}
	s.observations = make([]observation, s.heldOutFrom+tests)
	for role := range roles {
		s.credits[role], s.heldEnds[role] = make([]float64, tests), make([][]int32, tests)
		s.ends[role] = make([]int32, s.heldOutFrom+tests)
		s.worst[role] = make([]worstEnd, s.heldOutFrom+tests)
	}
	s.codes = make([][]uint8, s.heldOutFrom+tests)
	t.listReadings(s)
	s.quantityAt = map[string]int{}
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

// slot is where the observation of a draw goes.
func (s *dataset) slot(number int) int {
	if number >= len(s.slots) {
		return -1
	}
	return int(s.slots[number])
}

// noteEndings keeps where a draw ended, and what the tree earns for it if it is
// held out.
func (s *dataset) noteEndings(t *trial, d stratum, number int, role faulttree.Role, ends []ending) {
	at := s.slot(number)
	if at < 0 {
		return
	}
	least, quiet := 1.0, int32(-1)
	for _, e := range ends {
		least = min(least, t.credit(d, e.endpoint))
		if t.endpoints[e.endpoint].noFault {
			quiet = int32(e.endpoint)
		}
	}
	s.ends[role][at] = quiet
	if at >= s.heldOutFrom {
		s.credits[role][at-s.heldOutFrom] = least
		for _, e := range ends {
			s.heldEnds[role][at-s.heldOutFrom] = append(s.heldEnds[role][at-s.heldOutFrom], int32(e.endpoint))
		}
	}
}

// observe takes every reading of a draw, as finely as verdicts may rest on them
// (see told); over-range lies above all, not taken below.
func (s *dataset) observe(t *trial, k *reader) error {
	at := s.slot(k.draw.number)
	if at < 0 {
		return nil
	}
	var err error
	e := observation{group: k.draw.group, place: k.draw.place(), values: make([]float32, 0, len(s.quantities)+len(s.derived))}
	for _, q := range s.quantities {
		r, err := k.reading(q, 1)
		if err != nil {
			return err
		}
		e.values = append(e.values, told(t.face.Model, r, q.Unit))
	}
	for _, d := range s.derived {
		total, largest, readings, fine := faulttree.Amount(0), faulttree.Amount(0), 0, true
		for _, term := range d.of.Terms {
			q := d.step.Measure[term.Var].Quantity
			r, err := k.reading(q, 1)
			if err != nil {
				return err
			}
			_, value := q.Judged(r.Low, r.High)
			fine = fine && r.Numeric()
			total += value * faulttree.Amount(term.Factor)
			largest, readings = max(largest, value.Abs()), readings+max(int(term.Factor), -int(term.Factor))
		}
		if !fine {
			e.values = append(e.values, notTaken)
			continue
		}
		e.values = append(e.values, toldSum(t.face.Model, total, largest, readings, d.of.Unit))
	}
	s.observations[at] = e
	s.codes[at], err = s.coded(t, k)
	return err
}

// forRole is the observations as a role sees them, to learn from, healthy and
// unseen, and held out: its quantities first, then the sums.
func (s *dataset) forRole(role faulttree.Role) (learn, unseen, held []observation) {
	all := make([]observation, len(s.observations))
	for i, e := range s.observations {
		values := e.values
		if role == faulttree.Owner {
			first := len(s.quantities)
			values = slices.Concat(e.values[:s.quantityCount[role]], e.values[first:first+s.derivedCount[role]])
		}
		all[i] = observation{e.group, e.place, values}
	}
	return all[:s.calibrationFrom], all[s.calibrationFrom:s.heldOutFrom], all[s.heldOutFrom:]
}

// takenColumns lists the columns of a role's observations that some walk of it
// takes, those of sums where it takes all parts.
func (s *dataset) takenColumns(role faulttree.Role, g *gates) []int {
	var out []int
	for q := range s.quantityCount[role] {
		if g.taken[q] {
			out = append(out, q)
		}
	}
	for k, d := range s.derived[:s.derivedCount[role]] {
		if !slices.ContainsFunc(d.of.Terms, func(term faulttree.Term) bool {
			return !g.taken[s.quantityAt[d.step.Measure[term.Var].Quantity.ID]]
		}) {
			out = append(out, s.quantityCount[role]+k)
		}
	}
	return out
}

// narrowed is some observations with these columns alone.
func narrowed(some []observation, columns []int) []observation {
	out := slices.Clone(some)
	for i := range out {
		values := make([]float32, len(columns))
		for k, c := range columns {
			values[k] = some[i].values[c]
		}
		out[i].values = values
	}
	return out
}
