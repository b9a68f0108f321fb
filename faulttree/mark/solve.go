package mark

import (
	"context"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// wanted is what some attempts ask of the same drawn vehicles, by id.
type wanted struct {
	ids map[string]bool
	// Where something was exchanged each vehicle is put on the bench anew, so those
	// come after the others.
	as, exchanged []faulttree.Quantity
	seen          []suspect.Seen
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
			order, of[k] = append(order, k), &wanted{ids: map[string]bool{}}
		}
		m.g.wants(k, of[k])
	}
	for _, k := range order {
		if err := k.population.ColumnsWith(ctx, of[k].seen, of[k].as...); err != nil {
			return err
		}
		if err := k.population.Columns(ctx, of[k].exchanged...); err != nil {
			return err
		}
	}
	return nil
}

// wants notes what the beliefs before the conclusion rest on, and at each live contact
// the dead tests that could have come before it.
func (g *marker) wants(k *reasoned, all *wanted) {
	g.want(k, all, g.before(g.ended()))
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
			g.want(k, all, []taken{g.reads(m)})
		}
		g.want(k, all, read)
		for _, test := range tests {
			all.add(test, false)
		}
	}
}

// want notes the quantities of some evidence, and of what was seen among it.
func (g *marker) want(k *reasoned, all *wanted, evidence []taken) {
	for _, e := range evidence {
		if e.stand != nil {
			k.population.Stand(e.Quantity, *e.stand)
		}
		if e.Seen == nil {
			all.add(e.Quantity, e.stand != nil && len(e.stand.Renews) > 0)
			continue
		}
		if !slices.Contains(all.seen, *e.Seen) {
			all.seen = append(all.seen, *e.Seen)
		}
	}
}

func (w *wanted) add(q faulttree.Quantity, exchanged bool) {
	if w.ids[q.ID] {
		return
	}
	w.ids[q.ID] = true
	if exchanged {
		w.exchanged = append(w.exchanged, q)
	} else {
		w.as = append(w.as, q)
	}
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
