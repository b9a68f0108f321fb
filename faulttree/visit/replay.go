package visit

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Standing says whether an answer of the record still stands in the handbook
// it was replayed over. No answer is ever left out.
type Standing struct {
	Item  Item
	Entry int    // its place in the trail of the walk; -1 if it does not stand
	Why   string // a sentence saying why it does not stand; "" if it does
}

// Stands reports whether the answer is part of the walk.
func (s Standing) Stands() bool { return s.Entry >= 0 }

// Played is one round walked again.
type Played struct {
	Round   Round
	Walk    faulttree.Walk
	Answers []Standing // every answer of the round, in the order of the record
	Err     error      // the round could not begin: its tree or first step is gone
}

// Lapsed lists the answers that do not stand.
func (p Played) Lapsed() []Standing {
	return lists.Where(p.Answers, func(s Standing) bool { return !s.Stands() })
}

// Found is the newest of the rounds that has ended, -1 while none has. A test
// after repair that has only begun does not take the place of the finding.
func Found(rounds []Played) int {
	for i := len(rounds) - 1; i >= 0; i-- {
		if _, ok := rounds[i].Walk.Finding(); ok && rounds[i].Err == nil {
			return i
		}
	}
	return -1
}

// item is the answer at place entry of the trail.
func (p Played) item(entry int) Item {
	for _, s := range p.Answers {
		if s.Entry == entry {
			return s.Item
		}
	}
	return Item{}
}

// Replay walks every round of the visit through f. Where the handbook has
// changed so that an answer no longer fits, it is kept and marked, and later
// answers stand as far as they are still asked for. A reading that lies above
// a danger limit is never set aside while the walk goes on: it is judged where
// it stands, as supplied readings are.
func (v Visit) Replay(f *faulttree.Forest) []Played {
	return lists.Each(v.Rounds(), func(r Round) Played { return play(v.Header, r, f) })
}

// lostText is said of a walk whose record has lost something.
const lostText = "Part of the record is lost. What it said is not known, so nothing counts as without fault."

func play(h Header, r Round, f *faulttree.Forest) Played {
	p := Played{Round: r}
	p.Walk, p.Err = faulttree.Begin(f, r.Start, h.Role, h.Meter)
	p.Walk = p.Walk.Beside(r.beside())
	if r.Lost {
		p.Walk = p.Walk.Doubted(lostText)
	}
	for _, item := range r.Items {
		if p.Err != nil {
			p.Answers = append(p.Answers, Standing{item, -1, "The handbook in use cannot begin this walk: " + p.Err.Error() + "."})
			continue
		}
		p = p.take(item)
	}
	return p
}

// take answers the walk with one item, or marks it as not standing.
func (p Played) take(item Item) Played {
	entry := len(p.Walk.Trail())
	next, err := answer(p.Walk, item.Reply)
	if err == nil {
		p.Walk = next
		p.Answers = append(p.Answers, Standing{item, entry, ""})
		return p
	}
	if next, entry, ok := outrank(p.Walk, item.Reply); ok {
		for i := range p.Answers {
			if p.Answers[i].Entry == entry {
				p.Answers[i].Entry = -1
				p.Answers[i].Why = "A later reading lies above a limit that marks danger and outranks this answer."
			}
		}
		p.Walk = next
		p.Answers = append(p.Answers, Standing{item, entry, ""})
		return p
	}
	p.Answers = append(p.Answers, Standing{item, -1, err.Error()})
	return p
}

// answer gives a reply to the step the walk stands at, if that is the step it
// was given to and what it says still means the same there.
func answer(w faulttree.Walk, r Reply) (faulttree.Walk, error) {
	if w.Ended() {
		return w, fmt.Errorf("The walk ends before step %s is asked.", r.Step)
	}
	s := w.Takes(r.Step)
	if s == nil {
		return w, fmt.Errorf("The walk now asks step %s, not %s.", w.At(), r.Step)
	}
	if err := same(s, r); err != nil {
		return w, err
	}
	return w.AnswerTo(r.Step, r.Answer())
}

// same reports whether the readings of r mean at step s what the record says
// they meant.
func same(s *faulttree.Step, r Reply) error {
	if s.Kind != faulttree.KindMeasure {
		return nil
	}
	if len(r.Readings) != len(s.Measure) {
		return fmt.Errorf("Step %s now takes %d readings; the record has %d.", s.Ref(), len(s.Measure), len(r.Readings))
	}
	for i, t := range r.Readings {
		q := s.Measure[i].Quantity
		if t.Quantity != q.ID || t.Unit != q.Unit {
			return fmt.Errorf("Step %s now measures %s in %s; the record has %s in %s.", s.Ref(), q.ID, q.Unit, t.Quantity, t.Unit)
		}
		if err := reread(t, q); err != nil {
			return err
		}
	}
	return nil
}

// reread parses the typed text again and compares it with the record. A
// reading that was not possible has no number to compare.
func reread(t Taken, q faulttree.Quantity) error {
	if t.Reading.Quality == faulttree.NotPossible {
		return nil
	}
	now, err := faulttree.ParseReading(t.Reading.Text, q)
	if err != nil {
		return fmt.Errorf("The reading “%s” of %s is no longer taken: %w", t.Reading.Text, q.ID, err)
	}
	was := t.Reading
	if now.Quality != was.Quality || now.Numeric() && (now.Low != was.Low || now.High != was.High || now.Resolution != was.Resolution) {
		return fmt.Errorf("The reading “%s” of %s is now read as %s; the record says %s. Read it again.", was.Text, q.ID, now.Show(q.Unit), was.Show(q.Unit))
	}
	return nil
}

// outrank is the walk after a reply that may hurt has been judged out of its
// turn, and the place it takes in the trail: the last answer gives way if the
// walk had ended. It reports false for a reply that waits for its turn.
func outrank(w faulttree.Walk, r Reply) (next faulttree.Walk, entry int, ok bool) {
	if w.Ended() {
		w = w.Back()
	}
	next, ok = jump(w, r)
	return next, len(w.Trail()), ok
}

// jump judges readings of which one may hurt out of their turn, wherever the walk
// stands: by the limits of the tree it is in, or by those of the tree in which they
// were taken. It reports false for any other reply.
func jump(w faulttree.Walk, r Reply) (faulttree.Walk, bool) {
	given := map[string][]faulttree.Reading{}
	for _, t := range r.Readings {
		q, ok := w.Forest().Quantities[t.Quantity]
		if !ok || q.Unit != t.Unit || reread(t, q) != nil {
			return w, false
		}
		given[t.Quantity] = append(given[t.Quantity], t.Reading)
	}
	if next, ok := w.Outrank(w.Tree(), given); ok {
		return next, true
	}
	return w.Outrank(r.Step.Tree, given)
}
