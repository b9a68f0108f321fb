package mark

import (
	"context"
	"slices"

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

// Taking is how a quantity of the rig is taken.
func (k Known) Taking(id string) (vehicle.Taking, bool) {
	t, ok := k.g.list.taking[id]
	return t, ok
}
