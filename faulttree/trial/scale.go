package trial

import (
	"slices"

	"faultwright/faulttree"
)

// mostCuts is how many limits of a reading are told apart.
const mostCuts = 100

// scale is the stretches of a quantity, or of a sum, that a tree tells apart: by
// the limits at which its steps part, and whether the reading may hurt.
type scale struct {
	cuts    []faulttree.Amount // in order
	limit   faulttree.Amount   // the lowest danger limit
	limited bool
}

// add notes the edges of a span.
func (s *scale) add(span faulttree.Span) {
	for _, edge := range []faulttree.Amount{span.From, span.Below} {
		at, found := slices.BinarySearch(s.cuts, edge)
		if !found && edge != faulttree.Lowest && edge != faulttree.Highest && len(s.cuts) < mostCuts {
			s.cuts = slices.Insert(s.cuts, at, edge)
		}
	}
}

// code is the stretch in which a reading of q lies, from 1; 0 is not taken. It is
// odd for what does not hurt.
func (s scale) code(m faulttree.Meter, q faulttree.Quantity, r faulttree.Reading) uint8 {
	if r.Quality == faulttree.NotPossible {
		return 0
	}
	value := faulttree.OverTop
	if r.Numeric() {
		_, value = q.Judged(r.Low, r.High)
	}
	hurts := uint8(0)
	if s.limited && m.MayHurt(r, q, s.limit) {
		hurts = 1
		value = max(value, s.limit)
	}
	return 1 + 2*s.stretch(value) + hurts
}

// stretch is how many limits lie at or below a value.
func (s scale) stretch(value faulttree.Amount) uint8 {
	at, found := slices.BinarySearch(s.cuts, value)
	if found {
		at++
	}
	return uint8(at)
}

// most is one more than the highest code.
func (s scale) most() int { return 3 + 2*len(s.cuts) }

// hurts reports whether a code is one of a reading that may hurt.
func (s scale) hurts(code uint8) bool { return code > 0 && code%2 == 0 }

// scales are those of the dataset's quantities, then of its sums, by all steps a
// role can come to.
func (t *trial) scales(d *dataset) []scale {
	out := make([]scale, len(d.quantities)+len(d.derived))
	trees := map[string]bool{}
	for _, step := range t.ahead(faulttree.Qualified) {
		trees[step.Tree] = true
		column := func(v int) *scale {
			if v < len(step.Measure) {
				if at, ok := d.quantityAt[step.Measure[v].Quantity.ID]; ok {
					return &out[at]
				}
				return nil
			}
			for k, o := range d.derived {
				if o.step == step && o.of.Name == step.Derive[v-len(step.Measure)].Name {
					return &out[len(d.quantities)+k]
				}
			}
			return nil
		}
		for _, b := range step.Branches {
			for _, bound := range b.Bounds {
				if s := column(bound.Var); s != nil {
					s.add(bound.Span)
				}
			}
		}
		if step.Chart == nil {
			continue
		}
		for _, row := range step.Chart.Rows {
			for c, cell := range row.Cells {
				for _, span := range cell.Spans {
					if s := column(c); s != nil {
						s.add(span)
					}
				}
			}
		}
	}
	for q, quantity := range d.quantities {
		for tree := range trees {
			if limit, ok := t.forest.Trees[tree].DangerLimit(quantity.ID); ok && (!out[q].limited || limit < out[q].limit) {
				out[q].limit, out[q].limited = limit, true
			}
		}
	}
	return out
}
