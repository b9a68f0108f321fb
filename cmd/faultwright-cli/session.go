package main

import (
	"errors"
	"maps"
	"slices"
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// session asks a walk in the terminal.
type session struct {
	p     *program
	lib   *content.Library
	say   page
	json  bool
	id    string            // of the visit; "" without a record
	facts map[string]string // given beforehand
}

// newSession talks on standard output, or beside it where that is JSON.
func newSession(p *program, lib *content.Library, c walkCommand) *session {
	w := p.out
	if c.JSON {
		w = p.err
	}
	return &session{p: p, lib: lib, say: p.page(w), json: c.JSON, facts: maps.Clone(c.Fact)}
}

// run asks until the walk ends or the reader stops.
func (s *session) run(rec visit.Recorder) error {
	for {
		w := rec.Walk()
		if w.Ended() {
			v, _ := view.FindingOf(s.lib, w)
			s.say.followed(v, s.p.parting(s.lib, w))
			next, again, err := s.afterFinding(rec)
			if change, ok := err.(errChange); ok {
				next, err = s.change(rec, int(change))
				again = true
			}
			switch {
			case err == errQuit:
				return s.finish(rec, exitFine)
			case err != nil:
				return s.cannotGoOn(err)
			}
			if !again {
				return s.finish(rec, exitFine)
			}
			rec = next
			continue
		}
		answer, err := s.answer(w)
		if change, ok := err.(errChange); ok {
			if rec, err = s.change(rec, int(change)); err == nil {
				continue
			}
		}
		switch {
		case err == errQuit:
			return s.finish(rec, exitRanOut)
		case err == errBack:
			if len(w.Trail()) == 0 {
				s.say.para("", "This is the first step.")
			}
			if rec, err = rec.Back(s.p.now()); err != nil {
				return s.cannotGoOn(err)
			}
			continue
		case err != nil:
			return s.cannotGoOn(err)
		}
		next, err := rec.Answer(s.p.now(), answer)
		if err != nil {
			return s.cannotGoOn(err)
		}
		rec = next
		if view.Proves(s.lib, rec.Walk(), len(w.Trail())) {
			s.p.noteProof(s.say, w.Meter())
		}
		if rec.Walk().Ended() {
			s.learn(rec)
		}
		for n := len(w.Trail()); n < len(rec.Walk().Trail()); n++ { // the answer, and what had been given already
			s.outcome(rec.Walk(), n)
		}
	}
}

// learn notes with the reader's own vehicle what the visit asked of it and nobody knew.
func (s *session) learn(rec visit.Recorder) {
	id := rec.Visit().Vehicle()
	if id == "" || s.id == "" {
		return
	}
	book, err := s.p.logbook()
	if err != nil {
		s.p.note(err.Error())
		return
	}
	defer book.Close()
	all, _, err := book.List()
	if err != nil {
		s.p.note(err.Error())
		return
	}
	own, ok := logbook.Find(all, id)
	if !ok {
		return
	}
	l := own.Learn(s.lib.Forest, rec.Visit().Header.Start.Tree, rec.Walk().Facts())
	if differs := view.Differs(s.lib, own, l.Differ); differs != "" {
		s.say.para("", differs)
	}
	if !l.News {
		return
	}
	if _, err := book.Save(l.Vehicle); err != nil {
		s.p.note("this could not be noted of " + own.Name + ": " + err.Error())
		return
	}
	s.say.para("", view.Noted(s.lib, own, l.Vehicle))
}

// change asks for another answer to entry i of the trail. What that does to the
// later ones is told.
func (s *session) change(rec visit.Recorder, i int) (visit.Recorder, error) {
	w := rec.Walk()
	step := w.Asked(w.Trail()[i].Step)
	if step.Kind == faulttree.KindAct {
		s.say.para("", "That was done; there is no other answer to it.")
		return rec, nil
	}
	v, _ := view.StepIn(s.lib, w, i)
	s.say.step(v)
	a, err := s.answerTo(w, step)
	if _, again := err.(errChange); again || err == errBack {
		s.say.para("", "Nothing is changed.")
		return rec, nil
	}
	if err != nil {
		return rec, err
	}
	told, err := view.ChangeOf(s.lib, w, i, a)
	if err != nil {
		s.say.para("", view.Sentence(err.Error()))
		return rec, nil
	}
	next, _, err := rec.Change(s.p.now(), i, a)
	if err == nil {
		s.say.para("", told.Sentence())
		s.say.blank()
	}
	return next, err
}

// cannotGoOn ends a walk that cannot go on; what was confirmed is on record.
func (s *session) cannotGoOn(err error) error {
	if s.id != "" && !errors.Is(err, store.ErrGone) {
		return bad("%v\nEverything up to the answer before is on record as visit %s.", err, s.id)
	}
	return bad("%v", err)
}

// outcome says what entry n of the trail meant.
func (s *session) outcome(w faulttree.Walk, n int) {
	last := view.PastOf(s.lib, w, n, w.Trail()[n])
	if last.Label != "" {
		s.say.para("", "This reading: "+last.Label+".")
	}
	for _, remark := range last.Remarks {
		s.say.para("", remark)
	}
	s.say.blank()
}

// answer asks the step the walk stands at.
func (s *session) answer(w faulttree.Walk) (faulttree.Answer, error) {
	step := w.Step()
	if given := s.facts[step.ID]; step.Kind == faulttree.KindFact && given != "" {
		delete(s.facts, step.ID) // whoever goes back over it is asked
		return faulttree.Answer{Choice: given}, nil
	}
	v, _ := view.StepIn(s.lib, w, len(w.Trail()))
	s.say.given(s.lib, w)
	s.say.step(v)
	return s.answerTo(w, step)
}

// answerTo reads the answer to a step that has been shown.
func (s *session) answerTo(w faulttree.Walk, step *faulttree.Step) (faulttree.Answer, error) {
	switch step.Kind {
	case faulttree.KindMeasure:
		return s.measure(w, step)
	case faulttree.KindObserve, faulttree.KindFact:
		return s.observe(w, step)
	}
	for {
		typed, err := s.ask("Type done when it is done > ", w)
		if err != nil {
			return faulttree.Answer{}, err
		}
		if strings.EqualFold(typed, "done") {
			return faulttree.Answer{Done: true}, nil
		}
		s.say.para("", "This step waits for done. Type help for what else can be typed.")
	}
}

// measure asks for each reading of a step; back inside it goes back to the
// reading before.
func (s *session) measure(w faulttree.Walk, step *faulttree.Step) (faulttree.Answer, error) {
	var a faulttree.Answer
	for len(a.Readings) < len(step.Measure) {
		q := step.Measure[len(a.Readings)].Quantity
		typed, err := s.ask(q.ID+" in "+q.Unit.Symbol()+" > ", w)
		if err == errBack && len(a.Readings) > 0 {
			a.Readings = a.Readings[:len(a.Readings)-1]
			continue
		}
		if err != nil {
			return a, err
		}
		if word, reason, _ := strings.Cut(typed, " "); strings.EqualFold(word, "cannot") {
			if reason = strings.TrimSpace(reason); reason == "" {
				s.say.para("", "Say why it cannot be taken, such as: cannot fence in the way")
				continue
			}
			a.Readings = append(a.Readings, faulttree.NotTaken(reason))
			continue
		}
		r, err := faulttree.ParseReading(typed, q)
		if err != nil {
			s.say.para("", "You typed “"+typed+"”. "+err.Error())
			continue
		}
		a.Readings = append(a.Readings, r)
	}
	return a, nil
}

// observe asks for a choice, by number or name.
func (s *session) observe(w faulttree.Walk, step *faulttree.Step) (faulttree.Answer, error) {
	for {
		typed, err := s.ask("Number or word > ", w)
		if err != nil {
			return faulttree.Answer{}, err
		}
		i := slices.IndexFunc(step.Choices, func(c faulttree.Choice) bool { return strings.EqualFold(c.ID, typed) })
		if n, err := strconv.Atoi(typed); err == nil && i < 0 && n >= 1 && n <= len(step.Choices) {
			i = n - 1
		}
		if i >= 0 {
			return faulttree.Answer{Choice: step.Choices[i].ID}, nil
		}
		words := faulttree.ChoiceIDs(step.Choices)
		s.say.para("", "You typed “"+typed+"”. Expected a number from 1 to "+itoa(len(words))+", or one of "+list(words)+".")
	}
}

// afterFinding offers what can follow a finding.
func (s *session) afterFinding(rec visit.Recorder) (_ visit.Recorder, again bool, err error) {
	s.say.blank()
	for {
		typed, err := s.ask("Enter to finish, back to take the last answer back, test for the test after repair > ", rec.Walk())
		switch {
		case err == errBack:
			rec, err = rec.Back(s.p.now())
			return rec, true, err
		case err == errQuit, err == nil && typed == "":
			return rec, false, nil
		case err != nil:
			return rec, false, err
		case strings.EqualFold(typed, "test"):
			rec, err = s.retest(rec)
			return rec, true, err
		}
		s.say.para("", "You typed “"+typed+"”. The walk has ended, so no reading is asked here. To correct one, type change and the number of its answer; trail lists them. One taken after a repair belongs into the test.")
	}
}

// retest begins the test after repair.
func (s *session) retest(rec visit.Recorder) (visit.Recorder, error) {
	s.say.para("", "Test after repair: the walk begins again; the earlier readings stay on record.")
	s.say.blank()
	return rec.Retest(s.p.now(), faulttree.Ref{})
}

// finish says where the record is and ends with a code.
func (s *session) finish(rec visit.Recorder, code int) error {
	if s.id != "" {
		s.say.para("", "On record as visit "+s.id+".")
		if code == exitRanOut {
			s.say.para("", "To go on: faultwright-cli walk --resume "+s.id)
		} else {
			s.say.para("", "The sheet: faultwright-cli report "+s.id)
		}
	}
	if s.json {
		w := rec.Walk()
		out := walkOf(w.Start().Tree, w, w.Wants(), s.p.parting(s.lib, w))
		out.Visit = s.id
		if err := writeJSON(s.p.out, out); err != nil {
			return err
		}
	}
	if code == exitFine {
		return nil
	}
	return ended(code)
}
