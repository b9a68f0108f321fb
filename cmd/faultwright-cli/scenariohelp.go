package main

import (
	"errors"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/practice"
)

// guided is the help that a level gives, the same as in the window.
type guided struct {
	hints bool      // there are some to be had
	by    mark.Book // what they rest on, made for the first
	step  scenes.Step
	known bool // step is what is proposed now
}

// proposes reports whether every step is proposed, and foreseen before it is read.
func (v *playing) proposes() bool {
	a := v.rec.Attempt()
	return a.Level == practice.Worked && !a.Ended()
}

// next works out what to read next.
func (v *playing) next() (scenes.Step, error) {
	if v.help.by.Beliefs == nil {
		v.help.by = scenes.MarkBook(v.lib, v.s, scenes.NewBeliefs(v.lib, v.rec.Attempt().Meter))
	}
	return scenes.NextStep(v.p.ctx, v.lib, v.c, v.rec.Attempt(), v.help.by)
}

// hint tells what to read next, and has it on record.
func (v *playing) hint() error {
	switch a := v.rec.Attempt(); {
	case v.proposes():
		return v.propose()
	case a.Ended():
		return errors.New("you have concluded; there is no hint any more")
	case a.Level != practice.Guided && !v.help.hints:
		return errors.New("you are on your own here, without hints; a level of help is chosen at the beginning, with --level")
	}
	s, err := v.next()
	if err != nil {
		return err
	}
	if err := v.rec.Hint(s.Text(), v.since()); err != nil {
		return err
	}
	v.say.labelled("Hint", s.Text())
	v.say.para("", "That makes "+view.Count(len(v.rec.Attempt().Hints), "hint")+".")
	return nil
}

// propose tells the next step where each is proposed.
func (v *playing) propose() error {
	v.help.known = false
	if !v.proposes() {
		return nil
	}
	s, err := v.next()
	if err != nil {
		return err
	}
	v.help.step, v.help.known = s, true
	v.say.labelled("Next", s.Text())
	return nil
}

// foreseen asks what a reading will show and what that would tell; expects is which of
// the step's spans was said, -1 where nothing is asked.
func (v *playing) foreseen(a practice.Act) (expects int, tells string, err error) {
	s := v.help.step
	if !a.Reads() || !v.proposes() || !v.help.known || !s.Reads {
		return -1, "", nil
	}
	choice := func(text string) view.Choice { return view.Choice{Text: text} }
	reads, err := v.pick("What will it read?", lists.Each(s.Expects, func(e scenes.Expectation) view.Choice { return choice(e.Text) }), 1, 1)
	if err != nil {
		return -1, "", err
	}
	told, err := v.pick("What would that tell?", lists.Each(s.Tells, choice), 1, 1)
	if err != nil {
		return -1, "", err
	}
	return reads[0], s.Tells[told[0]], nil
}
