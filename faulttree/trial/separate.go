package trial

import (
	"slices"

	"faultwright/faulttree"
)

// Separable is a fault that a finding of no fault leaves possible although one
// more reading would show it.
type Separable struct {
	Fault   string  `json:"fault"`
	Role    string  `json:"role"`
	Reading string  `json:"reading"` // the quantity, or the sum of some, that shows most
	Share   float64 `json:"share"`   // of its vehicles at this finding that it shows
}

const (
	falsePositives = 0.01 // share of healthy vehicles that a reading may call faulty
	leastShown     = 0.5  // share of a fault's vehicles that a reading must show to be worth telling
	fewEach        = 10   // vehicles below which nothing is said
)

// separable looks, at every finding of no fault, for single readings open to a
// role that the walk there could still take: how many of a fault's vehicles
// lie outside what all but one in a hundred healthy vehicles show.
func (t *trial) separable(role faulttree.Role, r *Report) {
	learn, _, _ := t.data.forRole(role)
	for f := range t.endpoints {
		if !t.endpoints[f].noFault {
			continue
		}
		byFault := map[int][]observation{}
		for i, e := range learn {
			if t.data.ends[role][i] == int32(f) {
				fault := t.plan.fault(e.group)
				byFault[fault] = append(byFault[fault], e)
			}
		}
		if len(byFault[-1]) < fewEach {
			continue
		}
		for fault := range t.plan.faults {
			some := byFault[fault]
			if len(some) < fewEach || t.onlyMeter(fault) || t.plan.faults[fault].Hazard != faulttree.Danger {
				continue
			}
			if column, share := mostSeparating(byFault[-1], some); share >= leastShown {
				out := &r.Findings[f]
				out.Separable = append(out.Separable, Separable{t.plan.id(fault), role.String(), t.data.name(role, column), share})
			}
		}
	}
}

// mostSeparating is the column in which most of some lie outside what is sound,
// and how many do.
func mostSeparating(sound, some []observation) (column int, share float64) {
	values := make([]float32, len(sound))
	for c := range sound[0].values {
		for i, e := range sound {
			values[i] = e.values[c]
		}
		slices.Sort(values)
		cut := int(falsePositives / 2 * float64(len(values)))
		low, high := values[cut], values[len(values)-1-cut]
		n := 0
		for _, e := range some {
			if e.values[c] < low || e.values[c] > high {
				n++
			}
		}
		if x := float64(n) / float64(len(some)); x > share {
			column, share = c, x
		}
	}
	return column, share
}

// name is the quantity of a column, or the step whose sum it is.
func (s *dataset) name(role faulttree.Role, column int) string {
	if column < s.quantityCount[role] {
		return s.quantities[column].ID
	}
	d := s.derived[column-s.quantityCount[role]]
	return d.of.Name + " of " + d.step.Ref().String()
}
