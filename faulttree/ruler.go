package faulttree

import "sort"

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
	sort.SliceStable(out, func(i, j int) bool { return out[i].Span.From < out[j].Span.From })
	return out
}
