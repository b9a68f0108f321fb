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

// Next is what is worth reading next, the best first, by the switches that may be
// thrown; see [suspect.Belief.Next].
func (k Known) Next() ([]suspect.Next, error) {
	g := k.g
	fact := func(id string) string { return g.c.Rig.Facts[id] }
	all, err := k.Belief.Next(g.ctx, g.b.Beliefs.rules[g.a.Role], suspect.Reader{Known: fact, Tree: g.b.Tree, Tools: suspect.Clamp})
	return slices.DeleteFunc(all, func(n suspect.Next) bool {
		return n.Quantity == nil || !slices.Contains(g.list.ids, n.Quantity.ID) || !g.permitted(n.Quantity.ID)
	}), err
}

// Permitted lists the quantities that may be read at all: of those of the rig what
// the switches allow, of an owner what some tree asks of one, and after a reading that
// may have reached a danger limit what may still be asked.
func (k Known) Permitted() []faulttree.Quantity {
	asked := k.g.b.Forest.Before(k.g.a.Role)
	stopped := slices.ContainsFunc(k.read, func(t taken) bool {
		_, hurts := k.g.b.Forest.Reaches(k.g.a.Meter, t.Quantity, t.Reading)
		return hurts
	})
	var out []faulttree.Quantity
	for _, id := range k.g.list.ids {
		q := k.g.list.q[id]
		_, is := asked[id]
		if (is || k.g.a.Role == faulttree.Qualified) && k.g.permitted(id) && (!stopped || q.AllowedAfterStop()) {
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
