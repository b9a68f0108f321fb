package main

import (
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"faultwright/content/class"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
)

// errToVehicle means that a learner goes back from the conclusion to the vehicle.
var errToVehicle = errors.New("nothing is concluded yet; you are before the vehicle again")

// conclude asks what the learner makes of the readings, choice by choice, and looks
// back. Nothing is concluded before the last answer.
func (v *playing) conclude() error {
	if v.rec.Attempt().Ended() { // the test after repair is done
		v.fine = true
		return v.lookBack()
	}
	var c practice.Conclusion
	choices := func() scenes.Conclude {
		v.keep(c)
		return scenes.ConcludeOf(v.lib, v.s, v.c, v.rec.Attempt(), c)
	}
	faults, err := v.pick("What is wrong? Several numbers where it is several.", choices().Faults, 1, 9)
	if err != nil {
		return err
	}
	for _, i := range faults {
		c.Faults = append(c.Faults, choices().Faults[i].ID)
	}
	sound := slices.Contains(c.Faults, practice.NoFault)
	if sound && len(c.Faults) > 1 {
		return fmt.Errorf("it is in order, or something is wrong, not both; nothing is concluded yet")
	}
	if !sound {
		at, err := v.pick("Where?", choices().Places, 1, 1)
		if err != nil {
			return err
		}
		c.Place = faulttree.Place(choices().Places[at[0]].ID)
	}
	if read := choices().Readings; len(read) > 0 {
		v.say.para("", "Which of your readings decided? By the numbers of the acts.")
		numbers := make([]int, len(read))
		for i, r := range read {
			v.say.hanging("  ", "     ", r.Text)
			numbers[i] = practice.Number(r.Act)
		}
		deciding, err := v.numbered(numbers, 1, len(read))
		if err != nil {
			return err
		}
		for _, i := range deciding {
			c.Deciding = append(c.Deciding, read[i].Act)
		}
	}
	sure, err := v.pick("How sure is that?", choices().Sure, 1, 1)
	if err != nil {
		return err
	}
	c.Sure = practice.Sureness(sure[0])
	open, err := v.pick("Which dangers are still open? An empty line where you name none.", choices().Dangers, 0, len(choices().Dangers))
	if err != nil {
		return err
	}
	for _, i := range open {
		c.Open = append(c.Open, faulttree.ParseFaultAt(choices().Dangers[i].ID))
	}
	do, err := v.pick("What is to be done?", choices().Do, 1, 1)
	if err != nil {
		return err
	}
	c.Do = choices().Do[do[0]].ID
	by, err := v.pick("Who repairs?", choices().RepairBy, 1, 1)
	if err != nil {
		return err
	}
	c.RepairBy = choices().RepairBy[by[0]].ID
	if c.Tell, err = v.p.line(v.say, "What do you tell the customer? "); err != nil {
		return err
	}
	c.At = v.since()
	if err := v.rec.Conclude(c); err != nil {
		return err
	}
	return v.repair()
}

// keep has on record what is concluded so far, for a program that ends before all of it
// is said; the window goes on from there.
func (v *playing) keep(c practice.Conclusion) {
	if len(c.Faults) == 0 || v.unkept {
		return
	}
	if err := v.rec.Keep(practice.Draft{Conclusion: c}); err != nil {
		v.unkept = true
		v.say.para("", "What you say is on record only once all of it is said. "+view.Capital(view.Sentence(err.Error())))
	}
}

// repair puts right what was concluded, if the learner wants to read again.
func (v *playing) repair() error {
	answer, err := v.p.line(v.say, "Have it repaired as you said, and read again? [y/n] ")
	if err == nil && strings.HasPrefix(strings.ToLower(answer), "y") {
		if err := v.rec.Repair(); err == nil {
			v.say.para("", "It was repaired as you said. Read again what showed it; done looks back.")
			return nil
		} else {
			v.say.para("", view.Capital(err.Error())+".")
		}
	}
	v.fine = true
	return v.lookBack()
}

// pick asks for some of the choices, by their numbers from 1 on.
func (v *playing) pick(question string, choices []view.Choice, least, most int) ([]int, error) {
	v.say.para("", question)
	numbers := make([]int, len(choices))
	for i, c := range choices {
		v.say.hanging(fmt.Sprintf("  %d  ", i+1), "     ", c.Text)
		numbers[i] = i + 1
	}
	return v.numbered(numbers, least, most)
}

// numbered asks for some of these numbers, and returns the index of each.
func (v *playing) numbered(numbers []int, least, most int) ([]int, error) {
	for {
		typed, err := v.p.line(v.say, "? ")
		if err == errLong {
			typed, err = "?", nil
		}
		if err != nil {
			return nil, err
		}
		if out, ok := indicesOf(typed, numbers); ok && len(out) >= least && len(out) <= most {
			return out, nil
		}
		switch typed {
		case "quit":
			return nil, errQuit
		case "back":
			return nil, errToVehicle
		}
		v.say.para("", "Type numbers of the list with spaces between; back returns to the vehicle, quit stops.")
	}
}

// indicesOf reads numbers, each once, as their indices.
func indicesOf(typed string, numbers []int) ([]int, bool) {
	var out []int
	for _, word := range strings.FieldsFunc(typed, func(r rune) bool { return r == ' ' || r == ',' }) {
		n, err := strconv.Atoi(word)
		i := slices.Index(numbers, n)
		if err != nil || i < 0 || slices.Contains(out, i) {
			return nil, false
		}
		out = append(out, i)
	}
	return out, true
}

// lookBack says what it was, how the attempt is marked and why, and what is learnt
// from it.
func (v *playing) lookBack() error {
	if v.held {
		v.say.para("", "Your conclusion is on record. The look back comes with the feedback.")
		return nil
	}
	a := v.rec.Attempt()
	v.say.blank()
	v.say.title("Looking back")
	v.say.labelled("Answer", v.s.Answer)
	v.say.labelled("To be learnt", v.s.Lesson)
	v.say.blank()
	by := class.NewMarker(v.lib)
	if by == nil {
		headline, text := scenes.Concluded(v.lib, v.c, a)
		v.say.para("", headline+". "+text)
		return nil
	}
	v.say.para("", "The marks are worked out from your readings …")
	m, err := by.One(v.p.ctx, class.Try{Scenario: v.s, Case: v.c, Attempt: a})
	if err != nil {
		return fmt.Errorf("the attempt cannot be marked: %w", err)
	}
	v.say.marks("", *m)
	return nil
}
