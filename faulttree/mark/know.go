package mark

import (
	"context"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// Known is what the readings of an attempt tell at a time.
type Known struct {
	Belief *suspect.Belief
	g      *marker
	read   []taken
}

// Know is what an attempt tells that [practice.Case.Verify] found nothing wrong
// with, after so many acts; after the repair of the vehicle as it is since then.
func Know(ctx context.Context, c practice.Case, a practice.Attempt, acts int, b Book) (Known, error) {
	all, err := moments(c, a)
	if err != nil {
		return Known{}, err
	}
	l, err := newList(b.Forest, c)
	if err != nil {
		return Known{}, err
	}
	g := &marker{ctx: ctx, c: c, a: a, b: b, acts: all, list: l}
	k := Known{g: g}
	acts = min(max(acts, 0), len(all))
	round := 0
	if a.Repaired > 0 && acts > a.Repaired {
		round = 1
	}
	k.read = g.evidence(acts, round)
	k.Belief, err = b.Beliefs.belief(ctx, c, k.read)
	return k, err
}

// Held is the share of the likeliest thing to be done.
func (k Known) Held() float64 { return topShare(k.Belief) }

// Acts lists the indices of the acts that a piece of the belief's evidence comes from;
// none for what the customer came with.
func (k Known) Acts(piece int) []int { return k.read[piece].acts }

// True reports whether what is to be done about a suspect is what is to be done about
// the case, in whatever way it is there.
func (k Known) True(s suspect.Suspect) bool {
	return slices.Equal(k.g.toDo(s), k.g.b.Beliefs.tasks(k.g.truth()))
}

// Next is what is worth reading next, the best first, by the switches that may be
// thrown, with the meter of the bench; see [suspect.Belief.Next]. What was read
// already as a part of another quantity is not read again by itself, nor what somebody
// does not read any more, by its id.
func (k Known) Next(not ...string) ([]suspect.Next, error) { return k.next(suspect.Reader{}, not) }

func (k Known) next(r suspect.Reader, not []string) ([]suspect.Next, error) {
	r.Stopped = k.Hurts()
	return k.g.next(k.Belief, r, func(q faulttree.Quantity) bool {
		return !slices.Contains(not, q.ID) && (has(k.read, q.ID) || !k.g.within(k.read, q))
	})
}

// Careful is [Known.Next], without reasons, for somebody with care. One fault that is found
// may hide another, so once what is to be done is held he still reads what is dead, as long
// as that tells something; but nothing live any more, and nothing at all where something
// that was read may hurt.
func (k Known) Careful(not ...string) ([]suspect.Next, error) {
	return k.g.careful(k.Belief, k.read, func() ([]suspect.Next, error) { return k.next(suspect.Reader{NoWhy: true}, not) })
}

// careful leaves of what may be read next what is still read with care.
func (g *marker) careful(of *suspect.Belief, read []taken, next func() ([]suspect.Next, error)) ([]suspect.Next, error) {
	held := topShare(of) >= g.b.Rubric.Held
	if held && g.hurts(read) {
		return nil, nil
	}
	all, err := next()
	return slices.DeleteFunc(all, func(n suspect.Next) bool { return held && n.Quantity.Exposure.Live() }), err
}

// has reports whether a quantity is among what was read.
func has(read []taken, id string) bool {
	return slices.ContainsFunc(read, func(t taken) bool { return t.Quantity.ID == id })
}

// within reports whether each reading of a quantity is among what was read, under
// whatever name.
func (g *marker) within(read []taken, q faulttree.Quantity) bool {
	for i := range g.list.turns[q.ID] {
		if !slices.ContainsFunc(read, func(t taken) bool {
			return slices.ContainsFunc(t.acts, func(act int) bool { return g.takes(g.acts[act], &g.list.turns[q.ID][i]) })
		}) {
			return false
		}
	}
	return true
}

// benchTools is what the meter of the bench does beside an ordinary multimeter.
const benchTools = suspect.Clamp | suspect.ClampDC | suspect.LowImpedance

// next lists what may be read next at the case, the best first, of what can be, by a reader
// at its bench.
func (g *marker) next(of *suspect.Belief, r suspect.Reader, can func(faulttree.Quantity) bool) ([]suspect.Next, error) {
	r.Tree, r.Tools, r.Known = g.b.Tree, benchTools, g.fact
	forbidden := g.forbidden(of)
	r.Can = func(q faulttree.Quantity) bool {
		return slices.Contains(g.list.ids, q.ID) && g.permitted(q.ID) && !forbidden(q.ID) && can(q)
	}
	all, err := of.Next(g.ctx, g.b.Beliefs.rules[g.a.Role], r)
	return slices.DeleteFunc(all, func(n suspect.Next) bool { return n.Quantity == nil }), err
}

// Hurts reports whether something was read that may have reached a danger limit. A
// reading in a state for which the handbook has no quantity counts as what it is
// between the same points.
func (k Known) Hurts() bool { return k.g.hurts(k.read) }

func (g *marker) hurts(read []taken) bool {
	return slices.ContainsFunc(read, func(t taken) bool {
		q := t.Quantity
		if t.stand != nil {
			q, _ = g.quantityOf(g.acts[t.last()])
		}
		_, hurts := g.b.Forest.Reaches(g.a.Meter, q, t.Reading)
		return hurts
	})
}

// Permitted lists the quantities that may be read at all: of those of the rig what
// the switches allow, of an owner what some tree asks of one, after a reading that may have
// reached a danger limit what may still be asked, and nothing that needs the vehicle plugged
// in while the supply is dangerous by what was read.
func (k Known) Permitted() []faulttree.Quantity {
	asked := k.g.b.Beliefs.asked[k.g.a.Role]
	stopped, forbidden := k.Hurts(), k.g.forbidden(k.Belief)
	var out []faulttree.Quantity
	for _, id := range k.g.list.ids {
		q := k.g.list.q[id]
		if (asked[id] || k.g.a.Role == faulttree.Qualified) && k.g.permitted(id) && !forbidden(id) && (!stopped || q.AllowedAfterStop()) {
			out = append(out, q)
		}
	}
	return out
}

// Taking is how a quantity of the rig is taken.
func (k Known) Taking(id string) (vehicle.Taking, bool) {
	t, ok := k.g.list.taking[id]
	return t, ok
}
