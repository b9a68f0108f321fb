package mark

import (
	"fmt"
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/rubric"
)

// watch follows the acts of an attempt and keeps what its learner knows.
type watch struct {
	*marker
	proved bool    // the meter has shown that it reads
	tried  int     // index of the last proof that showed nothing, -1
	body   *moment // the last reading of body to earth that counts
	stop   *stop   // the first reading that reached a danger limit, since the last repair
	asked  map[string]bool
}

// stop is a reading that reached a danger limit.
type stop struct {
	act   moment
	limit faulttree.Amount
	title string
	unit  faulttree.Unit
}

// unsafe notes every unsafe act. A slip that was taken back is none.
func (g *marker) unsafe() error {
	w := &watch{marker: g, tried: -1, asked: g.b.pointsAsked(faulttree.Owner)}
	round := 0
	for i := range g.acts {
		if i == g.ended() {
			w.concluded(i)
		}
		m := g.acts[i]
		if m.round != round {
			round, w.body, w.stop = m.round, nil, nil // another vehicle, as it were
		}
		if m.slip || m.Kind == practice.TakeBack {
			continue
		}
		w.disobeys(m)
		switch m.Kind {
		case practice.Read, practice.Prove:
			if err := w.read(m); err != nil {
				return err
			}
		case practice.GoIn, practice.GoOut:
			w.touch(m)
		case practice.Throw:
			w.plugs(m)
			if err := w.energised(m); err != nil {
				return err
			}
		case practice.Load:
			if err := w.loads(m); err != nil {
				return err
			}
		}
	}
	if g.ended() == len(g.acts) {
		w.concluded(len(g.acts))
	}
	return nil
}

// add notes an unsafe act.
func (g *marker) add(rule rubric.Rule, act int, from []int, format string, args ...any) {
	c := g.b.Rubric.Cap(rule)
	g.out.Caps = append(g.out.Caps, Cap{Rule: rule, Act: act, At: g.when(act), Text: fmt.Sprintf(format, args...), Card: c.Card, Most: c.Most, From: from})
}

// concluded is the conclusion after so many acts.
func (w *watch) concluded(ended int) {
	w.verdict(ended)
	w.cleared(ended)
}

// verdict is the conclusion on a meter that has shown nothing.
func (w *watch) verdict(ended int) {
	done := w.a.Conclusion
	if done == nil || w.proved {
		return
	}
	if w.tried >= 0 && slices.ContainsFunc(done.Faults, w.ofMeter) {
		return // that it shows nothing there is what was found
	}
	for i := ended - 1; i >= 0; i-- {
		m := w.acts[i]
		if m.Kind != practice.Read || m.Shown == "" {
			continue
		}
		w.add(rubric.MeterUnproved, ended, []int{i}, "You concluded from readings such as %s in act %d, and the meter had not shown on a source known to be live that it reads.", m.Shown, practice.Number(i))
		return
	}
}

// ofMeter reports whether a fault is a mistake with the meter.
func (g *marker) ofMeter(id string) bool {
	return slices.ContainsFunc(g.b.Faults, func(f *rig.Fault) bool {
		return f.ID == id && slices.ContainsFunc(f.Variants, func(v rig.Variant) bool { return !v.Shows() })
	})
}

// read is the tips put somewhere.
func (w *watch) read(m moment) error {
	f := m.Setting.Function
	ohms := f == meter.Ohms || f == meter.Continuity
	switch {
	case m.Setting.Jack == meter.AmpereJack && (m.Hazard || m.Kind == practice.Prove || m.volts >= w.limit().Float()):
		if m.Hazard {
			w.add(rubric.AmpereJack, m.index, []int{m.index}, "In act %d the red lead was in the ampere jack and the tips went across a supply: a short through the meter, in your hands.", practice.Number(m.index))
		} else { // its fuse had blown
			w.add(rubric.AmpereJack, m.index, []int{m.index}, "In act %d the red lead was in the ampere jack and the tips went across a supply. It read %s, and what it was on is live.", practice.Number(m.index), m.Shown)
		}
		return nil
	case m.Hazard && ohms:
		w.add(rubric.OhmsOnLive, m.index, []int{m.index}, "In act %d ohms were measured on a circuit that was live.", practice.Number(m.index))
		return nil
	}
	w.opened(m)
	if m.Kind == practice.Prove {
		w.prove(m)
	} else {
		w.proved = w.proved || f == meter.VoltsAC && counts(m.Act) && m.Reading().High >= w.limit()
		if err := w.liveFirst(m); err != nil {
			return err
		}
	}
	if ofBody(m.Act) && w.proved {
		w.body = &m
	}
	if x, hurts := w.reaches(m); hurts && w.stop == nil && counts(m.Act) {
		w.stop = &x
	}
	return nil
}

// counts reports whether what an act shows was measured then and there.
func counts(a practice.Act) bool {
	return a.Numeric() && !a.Setting.Hold && a.Setting.Jack == meter.VoltJack
}

// limit is the voltage of a body to earth that can hurt.
func (g *marker) limit() faulttree.Amount { return g.b.Forest.Touch.From }

// prove is the meter on a source known to be live.
func (w *watch) prove(m moment) {
	if Proves(m.Act) {
		w.proved = true
		return
	}
	w.tried = m.index
}

// Proves reports whether an act showed, on a source known to be live, that the meter
// reads.
func Proves(a practice.Act) bool {
	return a.Kind == practice.Prove && counts(a) && a.Reading().Low > 0 && a.Setting.Function != meter.Ohms
}

// unread reports whether the body was not read as things stand before an act.
func (w *watch) unread(m moment) bool {
	last := w.body
	return last == nil || energises(w.c, *last, m)
}

// bodyHurts reports whether the last reading of the body may have reached a voltage.
func (w *watch) bodyHurts(from faulttree.Amount) bool {
	return w.a.Meter.MayHurt(w.body.Reading(), volts, from)
}

// calm reports whether somebody with care touches the body: it was read as things stand,
// and less than what is felt.
func (w *watch) calm(m moment) bool { return !w.unread(m) && !w.bodyHurts(w.b.Rubric.Felt) }

// touch is a hand on the body.
func (w *watch) touch(m moment) {
	if dead(w.c.Rig, m.before) {
		return
	}
	way := "up the step"
	if m.Kind == practice.GoOut {
		way = "down the step"
	}
	last := w.body
	if w.unread(m) {
		text := "In act %d, %s, the body was touched before body to earth had been read as things stood then."
		var from []int
		if last != nil {
			text += fmt.Sprintf(" Act %d read %s, and more was on since.", practice.Number(last.index), last.Shown)
			from = []int{last.index}
		} else if !w.proved {
			text += " Nor had the meter shown yet that it reads."
		}
		w.add(rubric.BodyUnknown, m.index, from, text, practice.Number(m.index), way)
		return
	}
	from := []int{last.index}
	switch {
	case w.bodyHurts(w.limit()):
		w.add(rubric.BodyLive, m.index, from, "In act %d, %s, the body was touched after act %d had read %s on it: by the meter's error that may be %s or more, which can kill.",
			practice.Number(m.index), way, practice.Number(last.index), last.Shown, w.limit().With(faulttree.VoltsAC))
	case w.b.Shock && w.bodyHurts(w.b.Rubric.Felt):
		w.add(rubric.BodyAfter, m.index, from, "In act %d, %s, the body was touched although somebody had been shocked by it and act %d had read %s: from %s on a shock is believed.",
			practice.Number(m.index), way, practice.Number(last.index), last.Shown, w.b.Rubric.Felt.With(faulttree.VoltsAC))
	}
}

// plugs is a plug pushed or pulled with the breaker ahead of it on, and neither tripped
// nor anything else pulled on the way.
func (w *watch) plugs(m moment) {
	breaker, plug := false, false
	title := m.Name
	for _, s := range w.c.Rig.Switches {
		if s.Name == "pedestal" {
			breaker = !isOff(m.before, s) && !m.unfed
		}
		if len(s.Covers) == 0 {
			continue
		}
		switch {
		case s.Name == m.Name:
			plug = isOff(m.before, s) == m.On
			title = s.Title
		case isOff(m.before, s):
			return
		}
	}
	if plug && breaker {
		verb := "pulled"
		if m.On {
			verb = "pushed in"
		}
		w.add(rubric.PluggedUnder, m.index, nil, "In act %d %s was %s with the breaker ahead of it on: the contacts arc, and a hand is close.", practice.Number(m.index), title, verb)
	}
}

// opened is an owner's probes behind a cover: where no walk asks an owner to
// measure.
func (w *watch) opened(m moment) {
	if w.a.Role == faulttree.Qualified || m.Kind != practice.Read {
		return
	}
	for _, point := range []string{m.Red, m.Black} {
		if slices.Contains(w.c.Rig.Inside, rig.Group(point)) && !w.asked[point] {
			w.add(rubric.OpenedByOwner, m.index, nil, "In act %d an owner's probe was behind a cover (%s). No walk asks an owner to measure there.", practice.Number(m.index), w.pointsOfAct(m))
			return
		}
	}
}

// pointsOfAct names what an act was read between: as the handbook does, where it has that.
func (w *watch) pointsOfAct(m moment) string {
	if q, _ := w.quantityOf(m); q.Title != "" {
		return q.Title
	}
	return m.Red + " to " + m.Black
}

// pointsAsked is the points that some tree asks a role to put a probe on.
func (b Book) pointsAsked(role faulttree.Role) map[string]bool {
	return b.pointsOf(slices.Collect(maps.Keys(b.Beliefs.asked[role])))
}

// pointsFirst is the points on which the walk of the complaint has a role put a probe
// before any dead test.
func (b Book) pointsFirst(role faulttree.Role) map[string]bool {
	return b.pointsOf(b.Forest.AskedFirst(b.Tree, role, deadTest))
}

// pointsOf is the points of some quantities.
func (b Book) pointsOf(ids []string) map[string]bool {
	out := map[string]bool{}
	for _, id := range ids {
		q := b.Forest.Quantities[id]
		out[q.Red], out[q.Black] = true, true
	}
	return out
}

// disobeys is an act after a reading that reached a danger limit which is none of
// unplugging, breakers off and the way out to the plug, dead tests, a proof of the meter,
// and for somebody qualified a reading at the supply. There is always a way out unless the
// body itself hurts: with the main breaker off it is as it was read before the loads went on.
func (w *watch) disobeys(m moment) {
	if w.stop == nil || w.obeys(m) {
		return
	}
	s := w.stop
	w.add(rubric.StopDisobeyed, m.index, []int{s.act.index}, "Act %d comes after a STOP: act %d had read %s, and the danger limit there is %s (%s). After that only breakers are turned off, the plug is pulled, and dead tests are made; whoever is inside turns off the main breaker, no single load, and goes out.",
		practice.Number(m.index), practice.Number(s.act.index), s.act.Shown, s.limit.With(s.unit), s.title)
}

func (w *watch) obeys(m moment) bool {
	off := dead(w.c.Rig, m.before)
	switch m.Kind {
	case practice.Prove, practice.ChangeFuse:
		return true
	case practice.Throw:
		return !m.On || off && dead(w.c.Rig, m.after)
	case practice.Read:
		if off && m.volts < w.limit().Float() {
			return true
		}
		q, _ := w.quantityOf(m)
		return off && w.a.Role == faulttree.Qualified && q.OffVehicle
	case practice.GoOut: // plug and breaker are outside; only a body that hurts keeps somebody in
		return off || w.calm(m)
	}
	return off && dead(w.c.Rig, m.after)
}

// reaches reports which danger limit a reading has reached or may have.
func (w *watch) reaches(m moment) (stop, bool) {
	if m.Kind != practice.Read {
		return stop{}, false
	}
	q, _ := w.quantityOf(m)
	x, hurts := w.b.Forest.Reaches(w.a.Meter, q, m.Reading())
	return stop{m, x.Limit, x.Quantity.Title, q.Unit}, hurts
}
