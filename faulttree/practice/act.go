package practice

import (
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
)

// Kind is what an act is.
type Kind uint8

const (
	Read   Kind = iota + 1 // both probes are put somewhere and the display is read
	Throw                  // a switch is thrown, a plug pushed or pulled
	Load                   // the loads of a leg are turned on or off
	GoIn                   // up the step, a hand on the body
	GoOut                  // down the step, a hand on the body
	Prove                  // the meter is put on a source known to be live
	Reject                 // it could not be done; Note says why
)

// Act is one thing that a learner did and what came of it.
type Act struct {
	Kind       Kind
	Red, Black string        // Read: test points
	Setting    meter.Setting // Read and Prove: how the meter was set
	Name       string        // Throw: the switch; Load: the leg
	On         bool          // Throw and Load: afterwards

	Shown  string // Read and Prove: the display with its unit, "119.4 V", "OL", ""
	Note   string // what happened instead, a sentence
	Hazard bool   // the note is of something that hurts or ruins

	reading faulttree.Reading
}

// Attempt is a learner's go at a case. The zero value is one that has just
// begun. Attempts are values: methods return a new one.
type Attempt struct {
	Case  string // id
	Acts  []Act
	Named string // the fault that was named, [NoFault], or "" before that
}

// With is the attempt after more acts.
func (a Attempt) With(acts ...Act) Attempt {
	a.Acts = append(append([]Act(nil), a.Acts...), acts...)
	return a
}

// Name is the attempt after a fault was named.
func (a Attempt) Name(fault string) Attempt {
	a.Named = fault
	return a
}

// Ended reports whether a fault was named.
func (a Attempt) Ended() bool { return a.Named != "" }

// Readings lists the acts that put probes somewhere, proofs of the meter among
// them.
func (a Attempt) Readings() []Act {
	var out []Act
	for _, act := range a.Acts {
		if act.Kind == Read || act.Kind == Prove {
			out = append(out, act)
		}
	}
	return out
}

// Reading is what the display showed, as a value.
func (a Act) Reading() faulttree.Reading { return a.reading }

// Numeric reports whether there was a number on the display.
func (a Act) Numeric() bool { return a.Shown != "" && a.reading.Numeric() }
