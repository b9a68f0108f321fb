package content

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// Scenario is a vehicle with faults that only its maker knows, and what the
// customer tells of it, which is the body.
type Scenario struct {
	Document
	Rig    *rig.Rig
	Faults []rig.Applied // in force; none for a vehicle in order
	Meter  []rig.Mistake // how the learner's meter misleads
	Values map[int]float64
	May    []string         // switches that a learner may throw
	Tree   string           // a tree to walk beside it, or ""
	Role   faulttree.Role   // whom it is for: what an owner is never asked for is not permitted to one
	Lesson string           // what is to be learnt, a sentence; shown to instructors, and to learners afterwards
	Hazard faulttree.Signal // of what is hidden: the worst of its faults unless its maker says another
	Kinds  []ScenarioKind   // what kind of exercise it is, in the order of [ScenarioKinds]
	Vary   Vary             // what other learners may find otherwise
	Expect Expectation      // what its maker says of the conclusion, where the faults' documents say otherwise
	Seen   []suspect.Seen   // what the story says was seen, in the words of the handbook's observations
	Shock  bool             // somebody in the story was shocked, or felt a tingle
	Answer string           // shown once the faults are named
	Story  string           // the body as it is written
}

// ScenarioKind says what kind of exercise a scenario is.
type ScenarioKind string

// The kinds of scenarios. All but the last follow from what is hidden.
const (
	NoFaultHidden   ScenarioKind = "no-fault"
	OneFault        ScenarioKind = "one-fault"
	TwoFaults       ScenarioKind = "two-faults"
	MeterMistake    ScenarioKind = "meter-mistake"
	MisleadingStory ScenarioKind = "misleading-story"
)

// ScenarioKinds lists all kinds.
func ScenarioKinds() []ScenarioKind {
	return []ScenarioKind{NoFaultHidden, OneFault, TwoFaults, MeterMistake, MisleadingStory}
}

// HiddenKind is what kind follows from the faults and the meter of the scenario, that
// of the meter first.
func (s *Scenario) HiddenKind() ScenarioKind {
	brought := slices.ContainsFunc(s.Faults, func(a rig.Applied) bool { return len(a.Fault.Variants[a.Variant].With) > 0 })
	switch {
	case len(s.Meter) > 0:
		return MeterMistake
	case len(s.Faults) == 0:
		return NoFaultHidden
	case len(s.Faults) > 1 || brought:
		return TwoFaults
	}
	return OneFault
}

// HiddenHazard is the worst hazard of what a scenario hides: of its faults, of those
// that come along with them, and of the mistakes with the meter.
func (l *Library) HiddenHazard(s *Scenario) faulttree.Signal {
	var ids []string
	for _, a := range s.Faults {
		ids = append(append(ids, a.Fault.ID), a.Fault.Variants[a.Variant].With...)
	}
	for id, f := range l.Faults {
		if f.Edits != nil && slices.ContainsFunc(f.Edits.Variants, func(v rig.Variant) bool {
			return slices.ContainsFunc(v.Edits, func(e rig.Edit) bool { return e.Mistake != 0 && slices.Contains(s.Meter, e.Mistake) })
		}) {
			ids = append(ids, id)
		}
	}
	return l.WorstHazard(ids)
}

// Is reports whether the scenario is of a kind.
func (s *Scenario) Is(k ScenarioKind) bool { return slices.Contains(s.Kinds, k) }

// Vary says what of a scenario differs from learner to learner. The faults stay.
// Where a scenario says nothing of it, the numbers of its rig vary, and its loads
// by a fifth.
type Vary struct {
	Stated   bool             // the scenario says what varies
	Numbers  bool             // the numbers of the rig that the scenario does not set, each within its range
	Legs     bool             // L1 and L2 may change places, with the loads on them
	Severity map[string]Range // by fault: how bad it is
	Loads    map[string]Range // by leg: what its loads take together, in watts
	Values   map[int]Range    // by parameter of the rig
	Places   []PlacesOf       // where a fault may sit
}

// PlacesOf is where a fault may sit in variants of a scenario.
type PlacesOf struct {
	Fault  string
	Places []faulttree.Place
}

// Range is from a number to another, both included.
type Range struct{ From, To float64 }

// Expectation is what the maker of a scenario says of a good conclusion, beside
// what the documents of its faults say. What is empty is taken from these.
type Expectation struct {
	Place    faulttree.Place     // where
	Do       string              // what is to be done now
	RepairBy string              // who repairs
	Open     []faulttree.FaultAt // dangers that a good conclusion names as open
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
