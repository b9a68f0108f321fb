package practice

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"faultwright/faulttree"
)

// Difference is the first thing in an attempt that does not follow from its
// case and its acts.
type Difference struct {
	Act            int    // index of the act; how many there are, where it is of none
	Said, Computed string // what the attempt says, and what comes of it
}

// String is a sentence without its full stop.
func (d Difference) String() string {
	return fmt.Sprintf("act %d says %q; expected %q", Number(d.Act), d.Said, d.Computed)
}

// Verify does the acts of an attempt over again, as it was kept or sent, so that
// what the displays showed is known from the case and not from the sender. The
// case must be the one of the attempt, made with its seed. Difference is the
// first thing that does not follow; what comes after it is told as it was said,
// as far as it cannot be done. The error is for an attempt that is not at this
// case, or past all bounds.
func (c Case) Verify(a Attempt) (Attempt, *Difference, error) {
	if a.Case != c.ID {
		return Attempt{}, nil, fmt.Errorf("the attempt is at %q, and this is %q", a.Case, c.ID)
	}
	if err := a.bounded(); err != nil {
		return Attempt{}, nil, err
	}
	v, err := c.Begin(a.Meter)
	if err != nil {
		return Attempt{}, nil, err
	}
	out := a
	out.Acts = make([]Act, 0, len(a.Acts))
	first := a.outOfOrder()
	differ := func(i int, said, computed string) {
		if first == nil || i < first.Act {
			first = &Difference{i, said, computed}
		}
	}
	for i, act := range a.Acts {
		if i > 0 && i == a.Repaired && a.Conclusion != nil {
			if err := v.Repair(*a.Conclusion); err != nil {
				return Attempt{}, nil, err
			}
		}
		one, err := v.follow(act)
		switch said, computed := act.came(), one.came(); {
		case err != nil:
			differ(i, act.Kind.String(), err.Error())
			act.reading = faulttree.NotTaken("it cannot have been read so")
			one = act
		case said != computed:
			differ(i, said, computed)
		}
		out.Acts = append(out.Acts, one)
	}
	return out, first, nil
}

// came is what came of an act, in one text.
func (a Act) came() string {
	text := strings.TrimSpace(a.Shown + " " + a.Note)
	if a.Hazard {
		text = strings.TrimSpace("DANGER " + text)
	}
	return text
}

// bounded reports what of an attempt is past all bounds.
func (a Attempt) bounded() error {
	switch {
	case len(a.Acts) > MostActs:
		return fmt.Errorf("the attempt has %d acts; at most %d are read", len(a.Acts), MostActs)
	case len(a.Hints) > MostHints || len(a.Predictions) > MostActs || len(a.Beside) > mostNamed:
		return fmt.Errorf("the attempt has %d hints, %d predictions, %d walks beside it; at most %d, %d, %d are read", len(a.Hints), len(a.Predictions), len(a.Beside), MostHints, MostActs, mostNamed)
	}
	return nil
}

// outOfOrder is the first thing that cannot have come where it stands, whatever
// the case is.
func (a Attempt) outOfOrder() (first *Difference) {
	ended := len(a.Acts)
	if a.Repaired != 0 {
		ended = a.Repaired
	}
	note := func(act int, said, computed string) {
		if first == nil || act < first.Act {
			first = &Difference{act, said, computed}
		}
	}
	if a.Repaired < 0 || a.Repaired > len(a.Acts) || a.Repaired > 0 && a.Conclusion == nil {
		note(len(a.Acts), fmt.Sprintf("repaired after %d acts", a.Repaired), "a repair after a conclusion")
		ended = len(a.Acts)
	}
	last := time.Duration(0)
	for i, act := range a.Acts {
		if i == ended && a.Conclusion != nil {
			last = max(last, a.Conclusion.At)
		}
		if act.At < last {
			note(i, act.At.String(), fmt.Sprintf("not before %v", last))
		}
		last = max(last, act.At)
	}
	for _, h := range a.Hints {
		if h.After < 0 || h.After > ended {
			note(ended, fmt.Sprintf("a hint after %d acts", h.After), fmt.Sprintf("one before the end, after at most %d", ended))
		}
	}
	for _, p := range a.Predictions {
		if p.Before < 0 || p.Before > len(a.Acts) {
			note(len(a.Acts), fmt.Sprintf("a prediction after %d acts", p.Before), fmt.Sprintf("after at most %d", len(a.Acts)))
		}
	}
	if c := a.Conclusion; c != nil {
		if ended > 0 && ended <= len(a.Acts) && c.At < a.Acts[ended-1].At {
			note(ended-1, a.Acts[ended-1].At.String(), fmt.Sprintf("not after the conclusion at %v", c.At))
		}
		if i := slices.IndexFunc(c.Deciding, func(i int) bool { return i < 0 || i >= ended || !a.Acts[i].Reads() }); i >= 0 {
			note(ended, fmt.Sprintf("act %d decided", Number(c.Deciding[i])), "a reading before the conclusion")
		}
	}
	return first
}
