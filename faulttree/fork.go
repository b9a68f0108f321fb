package faulttree

import (
	"fmt"
	"slices"

	"faultwright/faulttree/lists"
)

// Fork sends the walk to its ends. Ask answers the step the walk stands on;
// where it gives several answers, the walk goes each way. End is told every
// walk that ended, those by the first answer last. An error of either stops it;
// so do more than most answers, all ways together.
func (w Walk) Fork(most int, ask func(Walk) ([]Answer, error), end func(Walk) error) error {
	left := most
	w.trail = slices.Clip(w.trail)
	return w.fork(&left, ask, end)
}

func (w Walk) fork(left *int, ask func(Walk) ([]Answer, error), end func(Walk) error) error {
	for !w.Ended() {
		answers, err := ask(w)
		if err != nil {
			return err
		}
		if *left -= len(answers); *left < 0 || len(answers) == 0 {
			return fmt.Errorf("a walk that began at %s does not end", w.start)
		}
		for _, a := range answers[1:] {
			next, err := w.Answer(a)
			if err != nil {
				return err
			}
			if err := next.fork(left, ask, end); err != nil {
				return err
			}
		}
		if w, err = w.appendAnswer(w.Step(), answers[0]); err != nil {
			return err
		}
	}
	return end(w)
}

// Readings is how many readings the walk has taken, those left out not counted.
func (w Walk) Readings() int {
	n := 0
	for _, e := range w.trail {
		n += lists.Count(e.Answer.Readings, func(r Reading) bool { return r.Quality != NotPossible })
	}
	return n
}

// Observed is what somebody knows of the vehicle at an observe step: whether a
// condition on a reading holds, and whether a part stands open or is hot.
type Observed struct {
	Holds     func(When) bool
	Open, Hot func(part string) bool
}

// Fitting lists the choices that somebody who knows the vehicle may make at an
// observe step: those whose conditions hold, else those without a condition,
// else any.
func (s *Step) Fitting(o Observed) []Answer {
	var fit, free, all []Answer
	for _, c := range s.Choices {
		a := Answer{Choice: c.ID}
		all = append(all, a)
		if len(c.When) == 0 && !c.Sees && !c.Feels {
			free = append(free, a)
			continue
		}
		if fits(s.Choices, c, o) {
			fit = append(fit, a)
		}
	}
	switch {
	case len(fit) > 0:
		return fit
	case len(free) > 0:
		return free
	}
	return all
}

// Concerns reports whether a vehicle has what brings a reader to the tree: one
// of the conditions of its complaint holds.
func (t *Tree) Concerns(o Observed) bool {
	return len(t.Complaint) == 0 || slices.ContainsFunc(t.Complaint, func(c Choice) bool { return fits(t.Complaint, c, o) })
}

// Has lists which conditions of its complaint hold, by their index; those of a
// tree without a complaint are none.
func (t *Tree) Has(o Observed) []int {
	var has []int
	for i, c := range t.Complaint {
		if fits(t.Complaint, c, o) {
			has = append(has, i)
		}
	}
	return has
}

// fits reports whether the conditions of one among some choices hold.
func fits(among []Choice, c Choice, o Observed) bool {
	return (!c.Sees || one(among, c, opened, o.Open)) && (!c.Feels || one(among, c, felt, o.Hot)) &&
		!slices.ContainsFunc(c.When, func(when When) bool { return !o.Holds(when) })
}

func opened(c Choice) []string { return c.Opened }
func felt(c Choice) []string   { return c.Hot }

// one reports whether one of the parts that a choice names is so; where it names
// none, whether no part is that any choice names.
func one(among []Choice, c Choice, names func(Choice) []string, is func(part string) bool) bool {
	if len(names(c)) > 0 {
		return slices.ContainsFunc(names(c), is)
	}
	return !slices.ContainsFunc(among, func(other Choice) bool { return slices.ContainsFunc(names(other), is) })
}
