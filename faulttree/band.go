package faulttree

import (
	"cmp"
	"slices"
)

// Bears is the signal that one reading brought by its own value, i being its
// place in s.Measure and o the outcome it was part of. A branch may carry its
// signal for another reading of the step, or for what was known before: of all
// branches that a reading in the same band can meet, the mildest counts, and a
// signal that every reading of the step would have met is none of it. Above its
// danger limit a reading is always [Danger]; one that was not taken bears none.
func (s *Step) Bears(i int, r Reading, o Outcome, m Meter, danger DangerLimit) Signal {
	if r.Quality == NotPossible || s.Kind != KindMeasure || i >= len(s.Measure) {
		return NoSignal
	}
	q := s.Measure[i].Quantity
	if limit, limited := danger(q.ID); limited && m.MayHurt(r, q, limit) {
		return Danger
	}
	mildest := s.mildestIn(i, q.Domain())
	bears := mildest
	if s.OverRange.Set() {
		mildest = min(mildest, s.OverRange.Signal)
	}
	switch {
	case r.Quality == OverRange && s.OverRange.Set():
		bears = s.OverRange.Signal
	case o.Branch >= 0 && o.Branch < len(s.Branches):
		bears = s.mildestIn(i, m.Span(r, q).Meet(s.Branches[o.Branch].spanOf(i)))
	}
	if bears == mildest {
		return NoSignal
	}
	return bears
}

// mildestIn is the mildest signal of the branches that a value of variable i
// within a span can meet.
func (s *Step) mildestIn(i int, span Span) Signal {
	mildest, met := Danger, false
	for _, b := range s.Branches {
		if b.spanOf(i).Overlaps(span) {
			mildest, met = min(mildest, b.Signal), true
		}
	}
	if !met {
		return NoSignal
	}
	return mildest
}

// spanOf is what the branch asks of variable i, [Everything] if nothing.
func (b Branch) spanOf(i int) Span {
	span := Everything()
	for _, bound := range b.Bounds {
		if bound.Var == i {
			span = span.Meet(bound.Span)
		}
	}
	return span
}

// Segment is one stretch of a step's limit ruler.
type Segment struct {
	Span   Span
	Signal Signal
	Label  string
	To     Ref
}

// Ruler lists the branches of a step that measures one quantity, in the order
// of their values; nil for every other step.
func (s *Step) Ruler() []Segment {
	if s.Kind != KindMeasure || len(s.Measure) != 1 || len(s.Derive) > 0 {
		return nil
	}
	var out []Segment
	for _, b := range s.Branches {
		span := s.Measure[0].Quantity.Domain()
		for _, bound := range b.Bounds {
			span = span.Meet(bound.Span)
		}
		if !span.Empty() {
			out = append(out, Segment{span, b.Signal, b.Label, b.To})
		}
	}
	slices.SortStableFunc(out, func(a, b Segment) int { return cmp.Compare(a.Span.From, b.Span.From) })
	return out
}
