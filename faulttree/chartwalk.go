package faulttree

import (
	"fmt"
	"slices"
)

// passes reports whether nothing is to be asked at s, and where the walk goes on
// then: the facts known leave nothing to measure, or the readings known decide
// a chart. The entries in more are about to join the trail.
func (w Walk) passes(s *Step, more ...Entry) (out Outcome, passed bool, err error) {
	if s.Kind != KindChart && (s.Kind != KindMeasure || len(s.NeedsFacts()) == 0) {
		return out, false, nil
	}
	w.trail = append(slices.Clip(w.trail), more...)
	if s.unknown(w.Fact) != "" {
		return out, false, nil
	}
	u := s.Under(w.Fact)
	switch {
	case len(u.Measure) > 0 && s.Kind == KindMeasure:
		return out, false, nil
	case len(u.Measure) > 0:
		out, ask, err := u.evaluate(w.knownAt(u), w.meter, w.danger)
		return out, err == nil && ask < 0, err
	case !s.NotApplicable.Set():
		return out, false, fmt.Errorf("step %s has nothing to measure by the facts known, and does not say where to go then", s.Ref())
	}
	return s.exitWithout(s.NotApplicable), true, nil
}

// knownAt is what was read before of each column of the chart s, nil where
// nothing was. What could not be taken elsewhere is asked again, and after a STOP
// everything: what was pulled or switched off shows something else.
func (w Walk) knownAt(s *Step) []*Reading {
	known := make([]*Reading, len(s.Measure))
	for _, e := range w.trail {
		asked := w.Asked(e.Step)
		if asked == nil {
			continue
		}
		if asked.Stop() {
			clear(known)
		}
		chart, _, ofChart := e.Step.Chart()
		for q, r := range asked.Readings(e.Answer) {
			c := s.Measures(q.ID)
			if c >= 0 && (r.Quality != NotPossible || ofChart && chart == s.Ref()) {
				known[c] = &r
			}
		}
	}
	return known
}

// Takes is the step r as the walk would take an answer to it now: what it asks,
// other columns of the chart at which it stands, or a fact that nobody has told
// yet; nil for any other.
func (w Walk) Takes(r Ref) *Step {
	if w.forest != nil {
		r = w.forest.Canonical(r) // a visit may name it as it was
	}
	if s := w.Step(); s != nil && s.Ref() == r {
		return s
	}
	s := w.step()
	if id, ok := r.Fact(); ok && s != nil && !w.Ended() && w.Fact(id) == "" {
		return w.forest.Step(r)
	}
	chart, column, ok := r.Chart()
	if !ok || s == nil || s.Ref() != chart || w.handedOver() || s.unknown(w.Fact) != "" {
		return nil
	}
	u := s.Under(w.Fact)
	return u.columnNamed(column, w.knownAt(u))
}

// AnswerTo is Answer to the step r, which the walk must take now, as [Walk.Takes]
// has it.
func (w Walk) AnswerTo(r Ref, a Answer) (Walk, error) {
	s := w.Takes(r)
	if s == nil {
		return w, fmt.Errorf("the walk asks %s, not %s", w.At(), r)
	}
	w.trail = slices.Clip(w.trail)
	return w.appendAnswer(s, a)
}
