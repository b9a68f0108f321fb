package suspect

import "faultwright/faulttree"

// Evidence is one thing that is known of a vehicle: a reading of Quantity, or
// Seen, or Tried; exactly one of them.
type Evidence struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading // one that was not possible tells nothing
	Seen     *Seen
	Tried    *Tried
	Doubtful bool // whoever gave it is not sure
	Told     bool // somebody else read or saw it
	Round    int  // 0 before any repair, 1 after the first
}

// Seen is what was noticed without a meter.
type Seen struct{ Observation, Choice string }

// Complaint is the observation of what somebody came with, of which the choices are
// the ids of trees. It raises and lowers shares, and never rules out a danger: who
// complains of one thing may have another.
const Complaint = "complaint"

// isComplaint reports whether the evidence is what somebody came with.
func (e Evidence) isComplaint() bool { return e.Seen != nil && e.Seen.Observation == Complaint }

// isStory reports whether the evidence is what somebody came with, or says that he saw.
// As with a complaint, it is no test for a danger, and rules none out.
func (e Evidence) isStory() bool { return e.isComplaint() || e.Seen != nil && e.Told }

// Tried is an intervention, and whether the complaint of the tree that the
// reader came with was gone after it.
type Tried struct {
	Intervention, Tree string
	Gone               bool
}
