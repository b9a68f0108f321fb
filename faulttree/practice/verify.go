package practice

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
)

// Difference is the first thing in an attempt that does not follow from its
// case and its acts.
type Difference struct {
	Act            int    // index of the act, [OfNoAct] where it is of none
	Said, Computed string // what the attempt says, and what comes of it
}

// OfNoAct stands in a [Difference] about the conclusion, the repair, a hint or a
// prediction.
const OfNoAct = -1

// Where names what does not follow: "act 7".
func (d *Difference) Where() string {
	if d.Act == OfNoAct {
		return "what stands beside its acts"
	}
	return fmt.Sprintf("act %d", Number(d.Act))
}

// Error is a sentence without its full stop.
func (d *Difference) Error() string {
	return fmt.Sprintf("%s says %q; expected %q", d.Where(), d.Said, d.Computed)
}

// earlier is the one of two that comes first; acts come before all else.
func earlier(a, b *Difference) *Difference {
	if a == nil || b != nil && b.Act != OfNoAct && (a.Act == OfNoAct || b.Act < a.Act) {
		return b
	}
	return a
}

// Verify does the acts of an attempt over again, as it was kept or sent, so that
// what the displays showed is known from the case and not from the sender. The
// case must be the one of the attempt, made with its seed. Difference is the
// first thing that does not follow; what comes after it is told as it was said,
// as far as it cannot be done. The error is for an attempt that is not at this
// case, or past all bounds.
func (c Case) Verify(a Attempt) (Attempt, *Difference, error) {
	out, _, differs, err := c.verify(a)
	return out, differs, err
}

// verify does the same, and gives the learner who did the acts.
func (c Case) verify(a Attempt) (Attempt, *Learner, *Difference, error) {
	if a.Case != c.ID {
		return Attempt{}, nil, nil, fmt.Errorf("the attempt is at %q, and this is %q", a.Case, c.ID)
	}
	if err := a.bounded(); err != nil {
		return Attempt{}, nil, nil, err
	}
	v, err := c.BeginAs(a)
	if err != nil {
		return Attempt{}, nil, nil, err
	}
	out := a
	out.Acts = make([]Act, 0, len(a.Acts))
	first := a.outOfOrder()
	differ := func(i int, said, computed string) {
		first = earlier(first, &Difference{i, said, computed})
	}
	repair := func(i int) error {
		if i == 0 || i != a.Repaired || a.Conclusion == nil {
			return nil
		}
		return v.Repair(*a.Conclusion)
	}
	for i, act := range a.Acts {
		if err := repair(i); err != nil {
			return Attempt{}, nil, nil, err
		}
		one, err := v.follow(act)
		expected := one
		if act.Trips == nil {
			expected.Trips = nil // kept before they were told
		}
		switch said, computed := act.came(), expected.came(); {
		case err != nil:
			differ(i, act.Kind.String(), err.Error())
			act.reading = faulttree.NotTaken("it cannot have been read so")
			one = act
		case said != computed:
			differ(i, said, computed)
		}
		out.Acts = append(out.Acts, one)
	}
	return out, v, first, repair(len(a.Acts))
}

// came is what came of an act, in one text.
func (a Act) came() string {
	text := strings.TrimSpace(a.Shown + " " + a.Note)
	if a.Hazard {
		text = strings.TrimSpace("DANGER " + text)
	}
	if len(a.Trips) > 0 {
		text = strings.TrimSpace(text + " tripped: " + strings.Join(a.Trips, ", "))
	}
	return text
}

// bounded reports what of an attempt is past all bounds.
func (a Attempt) bounded() error {
	over := func(what string, n, most int) error {
		return fmt.Errorf("the attempt has %d %s; at most %d are kept", n, what, most)
	}
	switch {
	case len(a.Acts) > MostActs:
		return over("acts", len(a.Acts), MostActs)
	case len(a.Hints) > MostHints:
		return over("hints", len(a.Hints), MostHints)
	case len(a.Predictions) > MostActs:
		return over("predictions", len(a.Predictions), MostActs)
	case len(a.Beside) > mostNamed:
		return over("walks beside it", len(a.Beside), mostNamed)
	}
	for _, id := range a.Beside {
		if !journal.ValidID(id) {
			return fmt.Errorf("%q cannot be the name of a walk beside the attempt", id)
		}
	}
	for _, act := range a.Acts {
		if n := max(len(act.Red), len(act.Black), len(act.Name), len(act.Shown), len(act.Note)); n > MostText {
			return over("bytes in a text of an act", n, MostText)
		}
		if n := len(strings.Join(act.Trips, " ")); n > MostText {
			return over("bytes in what an act trips", n, MostText)
		}
	}
	for _, h := range a.Hints {
		if len(h.Text) > MostText {
			return over("bytes in a hint", len(h.Text), MostText)
		}
	}
	for _, p := range a.Predictions {
		if n := max(len(p.Expects), len(p.Tells)); n > MostText {
			return over("bytes in a prediction", n, MostText)
		}
	}
	if c := a.Conclusion; c != nil {
		if n := max(len(c.Faults), len(c.Open)); n > mostNamed {
			return over("faults named", n, mostNamed)
		}
		if len(c.Deciding) > len(a.Acts) {
			return over("deciding readings", len(c.Deciding), len(a.Acts))
		}
		for _, text := range append([]string{c.Tell, c.Do, c.RepairBy, string(c.Place)}, c.Faults...) {
			if len(text) > MostText {
				return over("bytes in a text of the conclusion", len(text), MostText)
			}
		}
	}
	return a.Meter.Check()
}

// outOfOrder is the first thing that cannot have come where it stands, whatever
// the case is.
func (a Attempt) outOfOrder() (first *Difference) {
	ended := len(a.Acts)
	if a.Repaired != 0 {
		ended = a.Repaired
	}
	note := func(act int, said, computed string) {
		first = earlier(first, &Difference{act, said, computed})
	}
	if a.Repaired < 0 || a.Repaired > len(a.Acts) || a.Repaired > 0 && a.Conclusion == nil {
		note(OfNoAct, fmt.Sprintf("repaired after %d acts", a.Repaired), "a repair after a conclusion")
		ended = len(a.Acts)
	}
	last := time.Duration(0)
	for i, act := range a.Acts {
		if i == ended && a.Conclusion != nil {
			last = max(last, a.Conclusion.At)
		}
		switch {
		case act.At < last:
			note(i, act.At.String(), fmt.Sprintf("not before %v", last))
		case i < ended && a.Conclusion != nil && act.At > a.Conclusion.At:
			note(i, act.At.String(), fmt.Sprintf("not after the conclusion at %v", a.Conclusion.At))
		}
		last = max(last, act.At)
	}
	for _, h := range a.Hints {
		if h.After < 0 || h.After > ended || a.Conclusion != nil && h.At > a.Conclusion.At {
			note(OfNoAct, fmt.Sprintf("a hint after %d acts", h.After), fmt.Sprintf("one before the end, after at most %d", ended))
		}
	}
	for _, p := range a.Predictions {
		if p.Before < 0 || p.Before > len(a.Acts) {
			note(OfNoAct, fmt.Sprintf("a prediction after %d acts", p.Before), fmt.Sprintf("after at most %d", len(a.Acts)))
		}
	}
	if c := a.Conclusion; c != nil {
		if c.At < 0 || c.At > longestDuration {
			note(OfNoAct, "concluded at "+c.At.String(), "a moment after the beginning")
		}
		if len(c.Faults) > 1 && slices.Contains(c.Faults, NoFault) {
			note(OfNoAct, strings.Join(c.Faults, ", "), NoFault+" alone, or faults")
		}
		if i := slices.IndexFunc(c.Deciding, func(i int) bool { return i < 0 || i >= ended || !a.Acts[i].Reads() }); i >= 0 {
			note(OfNoAct, fmt.Sprintf("act %d decided", Number(c.Deciding[i])), "a reading before the conclusion")
		}
	}
	return first
}
