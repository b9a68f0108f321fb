package trial

import (
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// slip is how a single reading goes wrong though meter and reader are in order.
// All are equally frequent. Common practice, no source.
type slip uint8

const (
	missedContact slip = iota // a tip that touches nothing: 0, in ohms OL
	frozenDisplay             // the display still shows the reading before, on the same function
	nextContact               // one tip stands on the contact beside the one that is meant
	slips
)

func (s slip) String() string {
	return [...]string{"a missed contact", "a frozen display", "the contact beside"}[s]
}

// slipOf is how the reading of q goes wrong that was taken so often before, if it
// does.
func (t *reader) slipOf(times int, q faulttree.Quantity, share float64) (how slip, wrong bool) {
	name := fmt.Sprintf("slip %d of %s", times, q.ID)
	return slip(t.pick(int(slips), "kind of "+name)), (t.in.chance(name)+1)/2 < share
}

// shown is what the reader takes for the reading of q, which is right but in a
// small share of the readings. Each time that q is read is a chance of its own,
// so that a reading repeated is a reading checked.
func (t *reader) shown(at faulttree.Walk, q faulttree.Quantity, share float64, read func(faulttree.Quantity) (faulttree.Reading, error)) (faulttree.Reading, error) {
	right, err := read(q)
	if err != nil || right.Quality == faulttree.NotPossible || t.in.exact {
		return right, err
	}
	times, before := readBefore(at, q)
	how, wrong := t.slipOf(times, q, share)
	if !wrong {
		return right, nil
	}
	switch how {
	case missedContact:
		if q.Unit == faulttree.Ohms {
			return t.in.show(q, math.Inf(1)), nil
		}
		return t.in.show(q, 0), nil
	case frozenDisplay:
		if before != nil {
			return *before, nil
		}
		return right, nil
	}
	if beside := t.beside(q); len(beside) > 0 {
		if r, err := read(beside[t.pick(len(beside), fmt.Sprintf("contact of slip %d of %s", times, q.ID))]); err != nil || r.Quality != faulttree.NotPossible {
			return r, err
		}
	}
	return right, nil
}

// pick is one of the numbers below n that belongs to the draw and a name.
func (t *reader) pick(n int, name string) int {
	return min(n-1, int((t.in.chance(name)+1)/2*float64(n)))
}

// readBefore is how often a walk has read q, and what it read last on the same
// function, nil for nothing.
func readBefore(at faulttree.Walk, q faulttree.Quantity) (times int, last *faulttree.Reading) {
	for _, e := range at.Trail() {
		asked := at.Asked(e.Step)
		for i, r := range e.Answer.Readings {
			if i >= len(asked.Measure) || r.Quality == faulttree.NotPossible {
				continue
			}
			if asked.Measure[i].Quantity.ID == q.ID {
				times++
			}
			if asked.Measure[i].Quantity.Unit == q.Unit {
				last = &r
			}
		}
	}
	return times, last
}

// beside lists the quantities that are read where one tip stands on another
// contact of the same place, in order.
func (t *reader) beside(q faulttree.Quantity) []faulttree.Quantity {
	var out []faulttree.Quantity
	for _, id := range t.listed.IDs() {
		o := t.listed[id]
		red, black := o.Red == q.Red, o.Black == q.Black
		if red == black || o.Unit != q.Unit || !slices.Equal(o.Conditions, q.Conditions) {
			continue
		}
		if red && samePlace(o.Black, q.Black) || black && samePlace(o.Red, q.Red) {
			out = append(out, o)
		}
	}
	return out
}

// samePlace reports whether two contacts are beside each other, such as two of
// a receptacle.
func samePlace(a, b string) bool {
	one, _, _ := strings.Cut(a, ".")
	other, _, _ := strings.Cut(b, ".")
	return one == other
}

// WrongReading is a reading of a walk that went wrong once.
type WrongReading struct {
	Step     string `json:"step"` // tree#step
	Quantity string `json:"quantity"`
	How      string `json:"how"`   // a missed contact, a frozen display, the contact beside
	Shown    string `json:"shown"` // with its unit
	Right    string `json:"right"` // what it would have been
}

// wrongIn lists the readings of a walk of the reader's draw that went wrong, in
// order. One that a slip left as it was is none.
func (t *trial) wrongIn(k *reader, w faulttree.Walk) ([]WrongReading, error) {
	if t.options.Wrong == 0 {
		return nil, nil
	}
	var out []WrongReading
	times := map[string]int{}
	proofs := 0
	for _, e := range w.Trail() {
		asked := w.Asked(e.Step)
		var taken []faulttree.Quantity
		for i, r := range e.Answer.Readings {
			if i >= len(asked.Measure) || r.Quality == faulttree.NotPossible {
				continue
			}
			q := asked.Measure[i].Quantity
			taken = append(taken, q)
			how, wrong := k.slipOf(times[q.ID], q, t.options.Wrong)
			if !wrong {
				continue
			}
			right, err := k.reading(q, proofs)
			if err != nil {
				return nil, err
			}
			if !right.Same(r) {
				out = append(out, WrongReading{e.Step.String(), q.ID, how.String(), r.Show(q.Unit), right.Show(q.Unit)})
			}
		}
		for _, q := range taken {
			times[q.ID]++
			if q.Proves == faulttree.ProvesVoltsAC {
				proofs++
			}
		}
	}
	return out, nil
}
