package faulttree

import (
	"cmp"
	"slices"
)

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
