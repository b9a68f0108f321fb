package content

import (
	"slices"

	"faultwright/faulttree/rig"
)

// Scenario is a vehicle with faults that only its maker knows, and what the
// customer tells of it, which is the body.
type Scenario struct {
	Document
	Rig    *rig.Rig
	Faults []rig.Applied // in force; none for a vehicle in order
	Meter  []rig.Mistake // how the learner's meter misleads
	Values map[int]float64
	May    []string // switches that a learner may throw
	Tree   string   // a tree to walk beside it, or ""
	Answer string   // shown once the faults are named
}

// Setup is the vehicle as a bench takes it. Values holds only the parameters
// of the rig that the scenario changes, by their index.
func (s *Scenario) Setup() rig.Setup {
	values := s.Rig.Values()
	for i, v := range s.Values {
		if i >= 0 && i < len(values) {
			values[i] = v
		}
	}
	return rig.Setup{Values: values, Faults: slices.Clone(s.Faults)}
}
