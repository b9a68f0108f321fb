package practice

import (
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
)

// Kind is what an act is.
type Kind uint8

const (
	Read       Kind = iota + 1 // both probes are put somewhere and the display is read
	Throw                      // a switch is thrown, a plug pushed or pulled
	Load                       // the loads of a leg are turned on or off
	GoIn                       // up the step, a hand on the body
	GoOut                      // down the step, a hand on the body
	Prove                      // the meter is put on a source known to be live
	Reject                     // it could not be done; Note says why. It is no act of an attempt
	Swap                       // something else is put in the place of what is there, such as another cord, or back
	Unplug                     // appliances are unplugged, or put back
	ChangeFuse                 // the meter gets a new fuse
	TakeBack                   // the act before was a slip of the hand and is undone at once
)

// Act is one thing that a learner did and what came of it.
type Act struct {
	Kind    Kind          `json:"kind"`
	Red     string        `json:"red,omitzero"`     // Read: a test point
	Black   string        `json:"black,omitzero"`   // Read: the other; "" for a clamp
	Setting meter.Setting `json:"setting,omitzero"` // Read and Prove: how the meter was set
	Name    string        `json:"name,omitzero"`    // Throw: the switch; Load: the leg; Swap and Unplug: an intervention of [Case.Tries]
	On      bool          `json:"on,omitzero"`      // Throw, Load: on afterwards; Swap: the other is in afterwards; Unplug: plugged in afterwards
	Asked   bool          `json:"asked,omitzero"`   // it was asked before it was booked, and confirmed; see [Learner.Asks]
	At      time.Duration `json:"at,omitzero"`      // since the attempt began

	Shown  string `json:"shown,omitzero"`  // Read and Prove: the display with its unit, "119.4 V", "OL", ""
	Note   string `json:"note,omitzero"`   // what happened instead, a sentence
	Hazard bool   `json:"hazard,omitzero"` // the note is of something that hurts or ruins

	reading faulttree.Reading
}

// Reading is what the display showed, as a value. It is not kept with an
// attempt: [Case.Verify] works it out again.
func (a Act) Reading() faulttree.Reading { return a.reading }

// Numeric reports whether there was a number on the display.
func (a Act) Numeric() bool { return a.Shown != "" && a.reading.Numeric() }

// Reads reports whether the act puts the probes somewhere.
func (a Act) Reads() bool { return a.Kind == Read || a.Kind == Prove }
