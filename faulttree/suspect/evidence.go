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

// Tried is an intervention, and whether the complaint of the tree that the
// reader came with was gone after it.
type Tried struct {
	Intervention, Tree string
	Gone               bool
}

// Misfit is how far a piece of evidence is from what a suspect would show.
type Misfit struct {
	Evidence Evidence
	Expected Expected // of a reading; the zero value for what was seen or tried
	Fit      float64  // 1 as well as anything could, near 0 not at all
}

// Expected is what a quantity reads in most vehicles of a suspect, without the
// meter's error: in the base unit of the quantity, +Inf is OL.
type Expected struct {
	Low, Middle, High float64 // nine tenths of them lie from Low to High
}

// Reading is the middle as the display of a meter would show it.
func (e Expected) Reading(q faulttree.Quantity, m faulttree.Meter) faulttree.Reading {
	return faulttree.Reading{}
}

// Show words it: "about 118 V", "54 V to 63 V", "OL".
func (e Expected) Show(q faulttree.Quantity, m faulttree.Meter) string { return "" }
