package mark

import (
	"context"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// wanted is evidence that is asked of drawn vehicles, each piece once.
type wanted struct {
	known map[wantedKey]bool
	all   []taken
}

// wantedKey is what a piece of evidence is about: a quantity, by id, or what was seen.
type wantedKey struct {
	quantity string
	seen     suspect.Seen
}

func (w *wanted) add(evidence ...taken) {
	for _, e := range evidence {
		key := wantedKey{quantity: e.Quantity.ID}
		if e.Seen != nil {
			key.seen = *e.Seen
		}
		if w.known == nil {
			w.known = map[wantedKey]bool{}
		}
		if !w.known[key] {
			w.known[key] = true
			w.all = append(w.all, e)
		}
	}
}

// Solve works out together what marking some attempts will ask of the vehicles that
// are drawn for their rigs. Each vehicle is drawn once then, and solved once in each
// state. An error is that of drawing, or of ctx.
func Solve(ctx context.Context, all ...*Marking) error {
	var order []*reasoned
	of := map[*reasoned]*wanted{}
	for _, m := range all {
		k, err := m.g.b.Beliefs.vehicles(ctx, m.g.c.Rig)
		if err != nil {
			return err
		}
		if of[k] == nil {
			order, of[k] = append(order, k), &wanted{}
		}
		of[k].add(m.wants.all...)
	}
	for _, k := range order {
		if err := k.solve(ctx, of[k].all); err != nil {
			return err
		}
	}
	return nil
}

// solve works out what some evidence is about in all vehicles. Where something was
// exchanged each is put on the bench anew, so that comes after the rest.
func (k *reasoned) solve(ctx context.Context, evidence []taken) error {
	var as, exchanged []faulttree.Quantity
	var seen []suspect.Seen
	for _, e := range evidence {
		if e.stand != nil {
			k.population.Stand(e.Quantity, *e.stand)
		}
		switch {
		case e.Seen != nil:
			seen = append(seen, *e.Seen)
		case e.stand != nil && len(e.stand.Renews) > 0:
			exchanged = append(exchanged, e.Quantity)
		default:
			as = append(as, e.Quantity)
		}
	}
	if err := k.population.ColumnsWith(ctx, seen, as...); err != nil {
		return err
	}
	return k.population.Columns(ctx, exchanged...)
}

// wants is what the beliefs before the conclusion rest on, and at each live contact
// the dead tests that could have come before it.
func (g *marker) wants() (all wanted) {
	all.add(g.before(g.ended())...)
	for _, m := range g.acts {
		probes := g.probesLive(m)
		if !probes && !g.loadsSomething(m) && !g.feeds(m) {
			continue
		}
		read := g.before(m.index)
		var tests []faulttree.Quantity
		if probes {
			if tests = g.deadTests(read); len(tests) == 0 {
				continue
			}
			all.add(g.reads(m))
		}
		all.add(read...)
		for _, test := range tests {
			all.add(taken{Evidence: suspect.Evidence{Quantity: test}})
		}
	}
	return all
}

// before is the evidence before an act of those before the repair.
func (g *marker) before(act int) []taken {
	read, known := g.evidenceUntil[act]
	if !known {
		read = g.evidence(act, 0)
		g.evidenceUntil[act] = read
	}
	return slices.Clip(read)
}
