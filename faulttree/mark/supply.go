package mark

import (
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
	"faultwright/faulttree/suspect"
)

// fed reports whether the supply feeds the vehicle through its cord: every plug in, and the
// breaker ahead of them on.
func fed(r *rig.Rig, st bench.State) bool {
	plugged := false
	for _, s := range r.Switches {
		if len(s.Covers) == 0 && s.Name != "pedestal" {
			continue
		}
		if isOff(st, s) {
			return false
		}
		plugged = plugged || len(s.Covers) > 0
	}
	return plugged
}

// feeds reports whether an act brings the supply to the vehicle.
func (g *marker) feeds(m moment) bool {
	return m.Kind == practice.Throw && !m.slip && !fed(g.c.Rig, m.before) && fed(g.c.Rig, m.after)
}

// energised is the vehicle energised from a supply that one's own readings call dangerous,
// too low or too high: by what was read of it, or by what all readings make most likely, whichever is the
// graver. Another receptacle in its place is unread.
func (w *watch) energised(m moment) error {
	if !w.feeds(m) {
		return nil
	}
	act, why, rule := w.readOfSupply(m)
	tell := func() {
		w.add(rule, m.index, []int{act}, "In act %d the vehicle was energised. Act %d had read %s at the supply: %s.", practice.Number(m.index), practice.Number(act), w.acts[act].Shown, why)
	}
	if rule == rubric.BadSupply {
		tell()
		return nil
	}
	likely, err := w.likelyBad(m)
	if err == nil && !likely && rule != "" {
		tell()
	}
	return err
}

// likelyBad is the vehicle energised from a supply that all readings make most likely
// dangerous; false where they do not.
func (w *watch) likelyBad(m moment) (bool, error) {
	if len(w.renewed(m)) > 0 {
		return false, nil
	}
	read := w.evidence(m.index, m.round)
	at, share, err := w.badSupply(read)
	if err != nil || share == 0 {
		return false, err
	}
	for len(read) > 1 { // what decided is the last without which it was not so likely
		_, less, err := w.badSupply(read[:len(read)-1])
		if err != nil {
			return false, err
		}
		if less == 0 {
			break
		}
		read = read[:len(read)-1]
	}
	last := read[len(read)-1].last()
	w.add(rubric.BadSupply, m.index, []int{last}, "In act %d the vehicle was energised. By what had been read until act %d (%s) the supply was most likely dangerous: “%s”.",
		practice.Number(m.index), practice.Number(last), w.acts[last].Shown, w.b.Describe(at.Fault, at.Place).Title)
	return true, nil
}

// badSupply is [suspect.Belief.BadSupply] after some evidence.
func (g *marker) badSupply(read []taken) (faulttree.FaultAt, float64, error) {
	read = slices.DeleteFunc(slices.Clone(read), func(t taken) bool { return t.Seen != nil })
	if len(read) == 0 {
		return faulttree.FaultAt{}, 0, nil
	}
	of, err := g.b.Beliefs.belief(g.ctx, g.c, read)
	if err != nil {
		return faulttree.FaultAt{}, 0, err
	}
	return of.BadSupply()
}

// readOfSupply is the act that read what by itself, or with what was read before it of the
// same supply, forbids to plug anything in, why, and the rule that it is, before an act of
// the same round. What a meter reads too low or too high on a source known to be live
// as well is no reading of the supply.
func (g *marker) readOfSupply(m moment) (act int, why string, rule rubric.Rule) {
	var read []faulttree.Sample
	var acts []int
	for _, o := range g.acts[:m.index] {
		if o.round != m.round || !telling(o) || !slices.Equal(g.renewed(o), g.renewed(m)) {
			continue
		}
		o.tried = nil // it is a reading of what is there
		if q, exactly := g.quantityOf(o); exactly && q.OfSupply() {
			read, acts = append(read, faulttree.Sample{Quantity: q, Reading: o.Reading()}), append(acts, o.index)
		}
	}
	n, forbids := g.b.Forest.NoPlug(read, g.a.Meter, g.fact)
	if !forbids {
		return 0, "", ""
	}
	q := read[n.At].Quantity
	switch {
	case g.provedOff(m, n):
		return 0, "", ""
	case n.Low:
		return acts[n.At], fmt.Sprintf("below %s nothing is plugged in, motors stall and burn out on it and a bad contact burns (%s)", n.Limit.With(q.Unit), q.Title), rubric.LowSupply
	case n.High:
		return acts[n.At], fmt.Sprintf("above %s nothing is plugged in, lamps and electronics burn out on it first (%s)", n.Limit.With(q.Unit), q.Title), rubric.HighSupply
	case n.To == nil:
		return acts[n.At], fmt.Sprintf("from %s on nothing is plugged in there (%s)", n.Limit.With(q.Unit), q.Title), rubric.BadSupply
	}
	return acts[n.At], fmt.Sprintf("by this, and what was read of it before, the walk “%s” leads to nothing but DANGER", g.b.Forest.Trees[n.To.Tree].Title), rubric.BadSupply
}

// provedOff reports whether the meter has shown as little, or as much, as forbids the plug
// before an act of the same round on a source known to be live.
func (g *marker) provedOff(m moment, n faulttree.NoPlug) bool {
	return slices.ContainsFunc(g.acts[:m.index], func(o moment) bool {
		return o.round == m.round && Proves(o.Act) && (n.Low && o.Reading().High < n.Limit || n.High && o.Reading().Low > n.Limit)
	})
}

// telling reports whether an act is a reading that tells something.
func telling(m moment) bool {
	return m.Kind == practice.Read && !m.Setting.Hold && m.Setting.Jack == meter.VoltJack && !m.Hazard && m.Setting.Function != meter.Continuity && m.Shown != ""
}

// renewed lists the interventions in force at an act that put another supply in the place of
// the first.
func (g *marker) renewed(m moment) []string {
	var out []string
	for _, i := range g.c.Tries {
		if slices.Contains(m.tried, i.ID) && slices.ContainsFunc(g.c.Rig.Parts, func(p rig.Part) bool {
			at := rig.Group(p.A) == "pedestal" || rig.Group(p.B) == "pedestal"
			return at && (slices.Contains(i.Renews, p.Name) || p.Run != "" && slices.Contains(i.Renews, p.Run))
		}) {
			out = append(out, i.ID)
		}
	}
	return out
}

// fact is what is known of a fact without a meter.
func (g *marker) fact(id string) string { return g.c.Rig.Facts[id] }

// forbidden reports whether a belief forbids a quantity: the supply is dangerous, and some
// reading of it needs the vehicle fed.
func (g *marker) forbidden(of *suspect.Belief) func(id string) bool {
	if !of.NoPlug(g.b.Forest, g.fact) {
		return func(string) bool { return false }
	}
	return func(id string) bool {
		return slices.ContainsFunc(g.list.turns[id], func(t turn) bool { return fed(g.c.Rig, t.as) })
	}
}
