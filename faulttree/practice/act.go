package practice

import (
	"errors"
	"fmt"
	"slices"
	"strings"
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
	Reset                      // what has tripped is reset, or a blown fuse renewed
)

// Act is one thing that a learner did and what came of it.
type Act struct {
	Kind    Kind          `json:"kind"`
	Red     string        `json:"red,omitzero"`     // Read: a test point
	Black   string        `json:"black,omitzero"`   // Read: the other; "" for a clamp
	Setting meter.Setting `json:"setting,omitzero"` // Read and Prove: how the meter was set
	Name    string        `json:"name,omitzero"`    // Throw: the switch; Load: the leg; Swap and Unplug: an intervention of [Case.Tries]; Reset: the breaker or the like
	On      bool          `json:"on,omitzero"`      // Throw, Load: on afterwards; Swap: the other is in afterwards; Unplug: plugged in afterwards
	Asked   bool          `json:"asked,omitzero"`   // it was asked before it was booked, and confirmed; see [Learner.Asks]
	At      time.Duration `json:"at,omitzero"`      // since the attempt began

	Shown  string `json:"shown,omitzero"`  // Read and Prove: the display with its unit, "119.4 V", "OL", ""
	Note   string `json:"note,omitzero"`   // what happened instead, a sentence
	Hazard bool   `json:"hazard,omitzero"` // the note is of something that hurts or ruins
	// Trips is the breakers and the like that it made open, by name; what stood open
	// before is not among them, but for one that was reset and opened again.
	Trips []string `json:"trips,omitempty"`

	reading faulttree.Reading
}

// Reading is what the display showed, as a value. It is not kept with an
// attempt: [Case.Verify] works it out again.
func (a Act) Reading() faulttree.Reading { return a.reading }

// Numeric reports whether there was a number on the display.
func (a Act) Numeric() bool { return a.Shown != "" && a.reading.Numeric() }

// Reads reports whether the act puts the probes somewhere.
func (a Act) Reads() bool { return a.Kind == Read || a.Kind == Prove }

// ErrNotAsked is that an act must be asked before it is booked, and was not.
var ErrNotAsked = errors.New("this is asked before it is done, and it was not")

// Asks is the question to put before an act is done; ok is false where none is
// needed. Touching the vehicle, going in, plugging and switching are asked, a
// reading only where it leads through the door; of a trainee everything live is,
// in the same question: whoever confirms sets [Act.Asked]. What cannot be done is
// not asked; [Learner.Do] says why.
func (v *Learner) Asks(a Act) (question string, ok bool) {
	a = v.withMeter(a)
	if v.check(a) != nil || v.Hindered(a) != "" {
		return "", false
	}
	var parts []string
	goes := v.throughDoor(a)
	if goes != 0 {
		parts = append(parts, v.c.Words(Act{Kind: goes}))
	}
	if moves(a) {
		parts = append(parts, v.c.Words(a))
	}
	if len(parts) > 0 {
		question = strings.Join(parts, ", then ")
		question = strings.ToUpper(question[:1]) + question[1:] + "?"
	}
	if v.supervised && (v.live(a) || goes != 0 && v.live(Act{Kind: goes})) {
		question = strings.TrimSpace(question + " " + beside)
	}
	return question, question != ""
}

// asked reports whether an act is asked by itself, without the way through the door.
func (v *Learner) asked(a Act) bool { return moves(a) || v.supervised && v.live(a) }

// moves reports whether an act touches or changes the vehicle.
func moves(a Act) bool {
	return slices.Contains([]Kind{GoIn, GoOut, Throw, Load, Swap, Unplug, Reset}, a.Kind)
}

// Words is an act as something to do, but for a reading: "up the step, a hand on the
// body".
func (c Case) Words(a Act) string {
	turn := "turn off"
	if a.On {
		turn = "turn on"
	}
	switch a.Kind {
	case GoIn:
		return "up the step, a hand on the body"
	case GoOut:
		return "down the step, a hand on the body"
	case Throw:
		s, _ := c.switchNamed(a.Name)
		switch {
		case len(s.Covers) > 0 && a.On:
			return "push in " + title(s)
		case len(s.Covers) > 0:
			return "pull out " + title(s)
		}
		return turn + " " + title(s)
	case Load:
		return turn + " " + loadsOf(a.Name)
	case Reset:
		return c.resetWords(a.Name)
	}
	i, _ := c.intervention(a.Name)
	if a.Kind == Swap && !a.On || a.Kind == Unplug && a.On {
		return fmt.Sprintf("back to how it was before (%s)", i.Title)
	}
	return strings.ToLower(i.Title[:min(1, len(i.Title))]) + i.Title[min(1, len(i.Title)):]
}

// resetWords is to reset something: what is not in the vehicle, whoever has it does.
func (c Case) resetWords(device string) string {
	title := c.Rig.DeviceTitle(device)
	switch {
	case c.Direct(): // it may be a fuse
		return "reset, or renew, " + title
	case len(c.Rig.Inside) > 0 && !c.Within(device):
		return "have " + title + " reset"
	}
	return "reset " + title
}

// loadsOf names the loads of a leg, as a learner sees them listed.
func loadsOf(leg string) string {
	switch leg {
	case "l1l2":
		return "the 240 V appliance"
	case "dc":
		return "the loads on 12 V"
	}
	return "the loads on " + strings.ToUpper(leg)
}
