package trial

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/vehicle"
)

// coded is what a draw shows to an order of asking, by codes: see
// [dataset].codes. The meter alone is tried before any mistake with it that sets
// in after its proof; the rest, and the proof again, after.
func (s *dataset) coded(t *trial, k *reader) ([]uint8, error) {
	var out []uint8
	readings := make([]faulttree.Reading, len(s.quantities))
	again := uint8(0)
	proof := s.proof()
	for i, q := range s.quantities {
		proofs := 0
		if proof >= 0 && !q.OfMeter() {
			proofs = 1
		}
		r, err := k.reading(q, proofs)
		if err != nil {
			return nil, err
		}
		readings[i] = r
		out = append(out, s.scales[i].code(t.face.Model, q, r))
		if i == proof {
			if r, err = k.reading(q, 1); err != nil {
				return nil, err
			}
			again = s.scales[i].code(t.face.Model, q, r)
		}
	}
	out = append(out, again)
	for i, d := range s.derived {
		out = append(out, s.sumCode(s.scales[len(s.quantities)+i], d, readings))
	}
	look := vehicle.Walker{Value: k.vehicle.Taken, Vehicle: k.vehicle}
	for _, step := range s.looks {
		fit, err := look.Choices(step)
		if err != nil {
			return nil, err
		}
		mask := uint8(0)
		for i, c := range step.Choices {
			if i < 8 && slices.ContainsFunc(fit, func(a faulttree.Answer) bool { return a.Choice == c.ID }) {
				mask |= 1 << i
			}
		}
		out = append(out, mask)
	}
	for _, f := range t.forest.Facts {
		holds := k.vehicle.Fact(f.ID)
		out = append(out, uint8(1+slices.IndexFunc(f.Choices, func(c faulttree.Choice) bool { return c.ID == holds })))
	}
	return out, nil
}

// sumCode is the stretch in which a sum lies, from 1; 0 where a part of it was not
// taken. OL counts as more than anything.
func (s *dataset) sumCode(on scale, d derivedValue, readings []faulttree.Reading) uint8 {
	total := faulttree.Amount(0)
	for _, term := range d.of.Terms {
		q := d.step.Measure[term.Var].Quantity
		r := readings[s.quantityAt[q.ID]]
		switch {
		case r.Quality == faulttree.NotPossible:
			return 0
		case !r.Numeric():
			return uint8(2 + len(on.cuts))
		}
		_, value := q.Judged(r.Low, r.High)
		total += value * faulttree.Amount(term.Factor)
	}
	return 1 + on.stretch(total)
}

// noteWorst keeps the ending that a draw's walk counts as.
func (s *dataset) noteWorst(number int, role faulttree.Role, e ending) {
	at := s.slot(number)
	if at < 0 {
		return
	}
	out := worstEnd{endpoint: e.endpoint, cost: e.taken.cost}
	for _, entry := range e.walk.Trail() {
		asked := e.walk.Asked(entry.Step)
		ref := asked.Ref()
		if chart, _, ok := ref.Chart(); ok {
			ref = chart
		}
		step, listed := s.stepAt[ref]
		if !listed {
			step = unlisted
		}
		for i, r := range entry.Answer.Readings {
			if i < len(asked.Measure) && r.Quality != faulttree.NotPossible {
				if q, known := s.quantityAt[asked.Measure[i].Quantity.ID]; known {
					out.asked = append(out.asked, askedAt{uint16(q), uint16(step)})
				}
			}
		}
	}
	s.worst[role][at] = out
}
