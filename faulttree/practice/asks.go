package practice

import (
	"errors"
	"fmt"
	"slices"
	"strings"
)

// ErrNotAsked is that an act must be asked before it is booked, and was not.
var ErrNotAsked = errors.New("this is asked before it is done, and it was not")

// Asks is the question to put before an act is done; ok is false where none is
// needed. Touching the vehicle, going in, plugging and switching are asked, a
// reading only where it leads through the door: whoever confirms sets
// [Act.Asked]. What cannot be done is not asked; [Learner.Do] says why.
func (v *Learner) Asks(a Act) (question string, ok bool) {
	if v.check(v.withMeter(a)) != nil || v.Hindered(a) != "" {
		return "", false
	}
	var parts []string
	if goes := v.throughDoor(a); goes != 0 {
		parts = append(parts, v.c.Words(Act{Kind: goes}))
	}
	if moves(a) {
		parts = append(parts, v.c.Words(a))
	}
	if len(parts) == 0 {
		return "", false
	}
	question = strings.Join(parts, ", then ")
	return strings.ToUpper(question[:1]) + question[1:] + "?", true
}

// moves reports whether an act touches or changes the vehicle, so that it is
// asked by itself.
func moves(a Act) bool {
	return slices.Contains([]Kind{GoIn, GoOut, Throw, Load, Swap, Unplug}, a.Kind)
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
		return turn + " the loads on " + legWord(a.Name)
	}
	i, _ := c.intervention(a.Name)
	if a.Kind == Swap && !a.On || a.Kind == Unplug && a.On {
		return fmt.Sprintf("back to how it was before (%s)", i.Title)
	}
	return strings.ToLower(i.Title[:min(1, len(i.Title))]) + i.Title[min(1, len(i.Title)):]
}

// legWord names the leg of some loads.
func legWord(leg string) string {
	switch leg {
	case "l1l2":
		return "both legs"
	case "dc":
		return "12 V"
	}
	return strings.ToUpper(leg)
}
