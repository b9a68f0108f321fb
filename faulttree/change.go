package faulttree

import (
	"fmt"
	"maps"
	"slices"
)

// Change gives a new answer to entry i of the trail. Later answers stand as
// far as the new way still asks for them; the others are returned as dropped.
// One that may hurt is never dropped: where nothing more of them is asked for it
// is judged out of its turn, and if the walk has ended the last answer gives way
// to it. An answer that came out of its turn and does not hurt any more waits for
// its turn beside the walk.
func (w Walk) Change(i int, a Answer) (next Walk, dropped []Entry, err error) {
	if i < 0 || i >= len(w.trail) {
		return w, nil, fmt.Errorf("there is no answer %d", i+1)
	}
	changed := w.trail[i]
	later := slices.Clone(w.trail[i+1:])
	next = w
	next.at, next.trail = changed.stood(), w.trail[:i:i]
	if changed.Stood == (Ref{}) {
		if next, err = next.AnswerTo(changed.Step, a); err != nil {
			return w, nil, err
		}
	} else if next, err = next.corrected(changed, w.Asked(changed.Step), a); err != nil {
		return w, nil, err
	}
	for {
		again, k, ok := next.takeOne(later)
		if !ok {
			if again, k, ok = next.outrankedBy(later, w); !ok {
				return next, later, nil
			}
			if next.Ended() {
				later = append(later, next.trail[len(next.trail)-1])
			}
		}
		next, later = again, slices.Delete(later, k, k+1)
	}
}

// takeOne is the walk after the first of some entries that it asks for, or, at a
// chart that may now ask in another order, that it takes.
func (w Walk) takeOne(entries []Entry) (next Walk, k int, ok bool) {
	if w.Ended() {
		return w, -1, false
	}
	k = slices.IndexFunc(entries, func(e Entry) bool { return e.Step == w.At() })
	if k < 0 {
		k = slices.IndexFunc(entries, func(e Entry) bool { return w.Takes(e.Step) != nil })
	}
	if k < 0 {
		return w, -1, false
	}
	next, err := w.AnswerTo(entries[k].Step, entries[k].Answer)
	return next, k, err == nil
}

// outrankedBy is the walk after the first of some entries of the walk before that
// may hurt by the tree of its step.
func (w Walk) outrankedBy(entries []Entry, before Walk) (next Walk, k int, ok bool) {
	if w.Ended() {
		w = w.Back()
	}
	for k, e := range entries {
		if s := before.Asked(e.Step); s != nil {
			if next, ok = w.Outrank(e.Step.Tree, e.given(s)); ok {
				return next, k, true
			}
		}
	}
	return w, -1, false
}

// given is the readings of e by quantity, where its step is s.
func (e Entry) given(s *Step) map[string][]Reading {
	out := map[string][]Reading{}
	for q, r := range s.Readings(e.Answer) {
		out[q.ID] = append(out[q.ID], r)
	}
	return out
}

// corrected is the walk, standing where it stood before the entry e of step s came
// out of its turn, with a in its place: judged at once if it still may hurt, else
// beside the walk.
func (w Walk) corrected(e Entry, s *Step, a Answer) (Walk, error) {
	if s == nil || len(a.Readings) != len(s.Measure) {
		return w, fmt.Errorf("step %s takes readings", e.Step)
	}
	was := e.given(s)
	e.Answer = a
	given := map[string][]Reading{}
	for id, readings := range w.given {
		given[id] = slices.DeleteFunc(slices.Clone(readings), func(r Reading) bool { return slices.ContainsFunc(was[id], r.Same) })
	}
	now := e.given(s)
	maps.DeleteFunc(given, func(_ string, readings []Reading) bool { return len(readings) == 0 })
	w.given = given
	w = w.Beside(now)
	next, ok := w.Outrank(e.Step.Tree, now)
	if !ok {
		return w, nil
	}
	return next, nil
}
