package mark

import (
	"context"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// Order is which readings a careful reader takes of a case, one after the other,
// until what is to be done is held and nothing dead, or nothing at all, tells more.
type Order struct {
	Steps []Step
	Cost  int // of all steps, by the weights of the handbook
	Held  float64
}

// Step is one reading of an order.
type Step struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading
	Why      string // the reason in a sentence without its full stop
	Cost     int
}

// mostSteps bounds an order.
const mostSteps = 30

// Best is the order of a reader who looks ahead, by [suspect.Belief.Next]: the same
// gates of role, state and danger hold for it as for the learner, and nothing but
// the readings is known to it.
func Best(ctx context.Context, c practice.Case, role faulttree.Role, b Book) (Order, error) {
	l, err := newList(b.Forest, c)
	if err != nil {
		return Order{}, err
	}
	g := &marker{ctx: ctx, c: c, a: practice.Attempt{Role: role, Meter: b.Beliefs.meter}, b: b, list: l}
	v, err := vehicle.New(c.Rig)
	if err != nil {
		return Order{}, err
	}
	if err := v.Put(c.Setup()); err != nil {
		return Order{}, err
	}
	m := meter.New(meter.NewFace(b.Beliefs.meter), nil)
	read := func(a vehicle.Asked, q faulttree.Quantity) (faulttree.Reading, error) {
		shown, err := m.Read(a, q)
		return shown.Reading, err
	}
	var out Order
	known := b.came(0)
	for range mostSteps {
		of, err := b.Beliefs.belief(ctx, c, known)
		if err != nil {
			return out, err
		}
		out.Held = topShare(of)
		all, err := g.careful(of, known, func() ([]suspect.Next, error) {
			return g.next(of, suspect.Reader{NoWhy: true}, func(faulttree.Quantity) bool { return true })
		})
		if err != nil {
			return out, err
		}
		if len(all) == 0 {
			break
		}
		q := *all[0].Quantity
		reading, err := v.Typed(q, read)
		if err != nil {
			return out, err
		}
		cost := b.Forest.Weights.Of(q)
		out.Steps = append(out.Steps, Step{q, reading, all[0].Why(), cost})
		if !g.free(q) {
			out.Cost += cost
		}
		known = append(known, taken{Evidence: suspect.Evidence{Quantity: q, Reading: reading}})
	}
	return out, nil
}

// topShare is the share of the likeliest thing to be done.
func topShare(of *suspect.Belief) float64 {
	if all := of.Brief(); len(all) > 0 {
		return all[0].Share
	}
	return 0
}

// free reports whether a reading costs nothing in an order: a proof, a check that
// excludes a danger, volts before ohms.
func (g *marker) free(q faulttree.Quantity) bool {
	if q.Proves != 0 || q.Unit != faulttree.Ohms && q.Has(faulttree.Unplugged) {
		return true
	}
	for _, t := range g.b.Forest.Trees {
		if _, limited := t.DangerLimit(q.ID); limited {
			return true
		}
	}
	return false
}
