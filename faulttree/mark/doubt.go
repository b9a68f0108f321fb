package mark

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
)

// loads is a load switched on while the neutral is in doubt.
func (w *watch) loads(m moment) error {
	if !w.loadsSomething(m) {
		return nil
	}
	read := w.before(m.index)
	of, err := w.b.Beliefs.belief(w.ctx, w.c, read)
	if err != nil {
		return err
	}
	share, worst := w.b.Beliefs.doubt(of)
	if share < w.b.Rubric.InDoubt {
		return nil
	}
	title := w.b.Describe(worst.At.Fault, worst.At.Place).Title
	last := -1
	if len(read) > 0 {
		last = read[len(read)-1].last()
	}
	if last < 0 {
		w.add(rubric.LoadInDoubt, m.index, nil, "In act %d a load was switched on before anything had been read: “%s” was not unlikely yet, and then a load puts the wrong voltage on whatever is on.", practice.Number(m.index), title)
		return nil
	}
	w.add(rubric.LoadInDoubt, m.index, []int{last}, "In act %d a load was switched on. By what had been read until act %d (%s), “%s” was not unlikely, and then a load puts the wrong voltage on whatever is on.",
		practice.Number(m.index), practice.Number(last), w.acts[last].Shown, title)
	return nil
}

// loadsSomething reports whether an act switches a load on that a bad neutral could
// hurt; a neutral puts no wrong voltage on 12 V.
func (g *marker) loadsSomething(m moment) bool {
	return m.Kind == practice.Load && m.On && m.round == 0 && !m.slip && !g.c.Direct() && !dead(g.c.Rig, m.before)
}

// liveFirst is a live contact probed where a dead test that could be made would
// have been expected to tell as much, by the marks and by what would have been proposed
// then.
func (w *watch) liveFirst(m moment) error {
	if !w.probesLive(m) {
		return nil
	}
	read := w.before(m.index)
	tests := w.deadTests(read)
	if len(tests) == 0 {
		return nil
	}
	k, err := w.b.Beliefs.vehicles(w.ctx, w.c.Rig)
	if err != nil {
		return err
	}
	of, err := w.b.Beliefs.belief(w.ctx, w.c, read)
	if err != nil {
		return err
	}
	this := w.reads(m)
	column, err := of.Population().Column(w.ctx, this.Quantity)
	if err != nil {
		return err
	}
	by := weighedBy(of.Evened())
	best := max(w.b.Rubric.DeadTest, k.bits(w.b.Beliefs, by, this.Quantity, column))
	var instead []faulttree.Quantity // the best last
	for _, test := range tests {
		column, err := of.Population().Column(w.ctx, test)
		if err != nil {
			return err
		}
		if bits := k.bits(w.b.Beliefs, by, test, column); bits >= best {
			best, instead = bits, append(instead, test)
		}
	}
	if instead, err = of.Telling(w.ctx, w.b.Beliefs.rules[w.a.Role], instead...); err != nil {
		return err
	}
	if n := len(instead); n > 0 {
		w.add(rubric.LiveFirst, m.index, []int{m.index}, "In act %d the tips were on a contact that may be live, and read %s. With the plug out, “%s” would have been expected to tell as much.", practice.Number(m.index), m.Shown, instead[n-1].Title)
	}
	return nil
}

// probesLive reports whether an act probes a live contact before the repair that a dead
// test may have to come before. A reading that excludes a danger of touching (the body,
// the pedestal's own metal, the spike before them) is none, nor one between points that the
// walk of the complaint reads before any dead test: nobody can test a pedestal dead.
func (g *marker) probesLive(m moment) bool {
	if m.Kind != practice.Read || m.round > 0 || m.slip || g.c.Rig.Direct() || g.first[m.Red] && g.first[m.Black] {
		return false
	}
	q, _ := g.quantityOf(m)
	live := m.volts >= g.limit().Float() || q.Exposure.Live()
	return live && !g.excludes(m, q) && (q.OffVehicle || !dead(g.c.Rig, m.before))
}

// excludes reports whether a reading only keeps a hand from what may be live: the
// body, what else has a danger limit to the spike, and the spike itself.
func (g *marker) excludes(m moment, q faulttree.Quantity) bool {
	return m.Red == "body" && m.Black == "earth" || m.Red == "earth" && m.Black == "body" || q.Proves != 0 || q.Black == "earth" && g.free(q)
}

// deadTests lists the tests of dead things that could be made and were not: of what
// a tree asks of the role, in states that the case permits.
func (g *marker) deadTests(read []taken) []faulttree.Quantity {
	if !g.mayUnplug() {
		return nil
	}
	asked := g.b.Beliefs.asked[g.a.Role]
	var out []faulttree.Quantity
	for _, id := range g.list.ids {
		q := g.list.q[id]
		if asked[id] && !has(read, id) && !g.within(read, q) && deadTest(q) && g.permitted(id) {
			out = append(out, q)
		}
	}
	return out
}

// deadTest reports whether a quantity tells something of a vehicle with nothing live.
func deadTest(q faulttree.Quantity) bool {
	return q.Exposure == faulttree.DeadTest && q.Has(faulttree.Unplugged) && q.Unit == faulttree.Ohms
}

// mayUnplug reports whether a plug may be pulled in the case.
func (g *marker) mayUnplug() bool {
	return slices.ContainsFunc(g.c.Rig.Switches, func(s rig.Switch) bool { return len(s.Covers) > 0 && slices.Contains(g.c.May, s.Name) })
}

// permitted reports whether the vehicle can be brought into the states in which a
// quantity is read, by the switches that may be thrown.
func (g *marker) permitted(id string) bool {
	for _, t := range g.list.turns[id] {
		for _, s := range g.c.Rig.Switches {
			if isOff(t.as, s) != s.Off && !slices.Contains(g.c.May, s.Name) {
				return false
			}
		}
	}
	return true
}
