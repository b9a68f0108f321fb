package practice

import (
	"maps"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
)

// Rules of what can hurt.
const (
	OhmsOnLive   = "ohms-on-live"
	AmpereJack   = "ampere-jack"
	BodyUnknown  = "body-unknown"
	BodyLive     = "body-live"
	PluggedUnder = "plugged-under-load"
)

// UnsafeAct is an act of an attempt that would have been dangerous.
type UnsafeAct struct {
	Rule string
	Act  int    // index into the attempt's acts
	Text string // a sentence for the learner
	Card string // a caution or card of the handbook that explains it
}

// unsafeWatch follows an attempt and keeps what is known of the body.
type unsafeWatch struct {
	c      Case
	limit  faulttree.Amount // body to earth from here on can hurt
	meter  faulttree.Meter  // by whose error a reading may have reached it
	off    map[string]bool
	loads  map[string]bool
	proved bool
	body   *bodyReading // the last reading of body to earth
	out    []UnsafeAct
	told   map[string]bool
}

// bodyReading is a reading of body to earth and the state it was taken in.
type bodyReading struct {
	hurts      bool // it may have reached the limit
	off, loads map[string]bool
}

// Unsafe lists the acts of an attempt that would have been dangerous, each
// rule at the first act that breaks it in one state. Limit is the voltage of a
// body to earth that can hurt; a reading within the error of the meter's model
// counts as over it.
func (c Case) Unsafe(a Attempt, limit faulttree.Amount, model faulttree.Meter) []UnsafeAct {
	w := &unsafeWatch{c: c, limit: limit, meter: model, off: map[string]bool{}, loads: maps.Clone(c.Loads), told: map[string]bool{}}
	if w.loads == nil {
		w.loads = map[string]bool{}
	}
	for _, s := range c.Rig.Switches {
		w.off[s.Name] = s.Off
	}
	for i, act := range a.Acts {
		w.follow(i, act)
	}
	return w.out
}

func (w *unsafeWatch) follow(i int, a Act) {
	switch a.Kind {
	case Read, Prove:
		w.read(i, a)
	case GoIn, GoOut:
		w.touch(i)
	case Throw:
		if w.underPower(a.Name) {
			w.add(PluggedUnder, i, "A plug was pushed or pulled with the breaker ahead of it on: the contacts arc, and a hand is close.", "order-of-plugging-in")
		}
		w.off[a.Name] = !a.On
	case Load:
		w.loads[a.Name] = a.On
	}
}

// underPower reports whether a switch is a plug, has a breaker ahead of it that is
// on, and nothing else is pulled on the way.
func (w *unsafeWatch) underPower(name string) bool {
	breaker, plug := false, false
	for _, s := range w.c.Rig.Switches {
		breaker = breaker || s.Name == "pedestal"
		if len(s.Covers) > 0 {
			plug = plug || s.Name == name
			if s.Name != name && w.off[s.Name] {
				return false
			}
		}
	}
	return plug && breaker && !w.off["pedestal"]
}

func (w *unsafeWatch) read(i int, a Act) {
	f := a.Setting.Function
	switch {
	case a.Hazard && a.Setting.Jack == meter.AmpereJack:
		w.add(AmpereJack, i, "The red lead was in the ampere jack and the tips went across a supply: a short through the meter, in your hands.", "meter-category")
		return
	case a.Hazard && (f == meter.Ohms || f == meter.Continuity):
		w.add(OhmsOnLive, i, "Ohms were measured on a circuit that was live.", "no-ohms-on-live")
		return
	}
	if f != meter.VoltsAC || a.Setting.Hold || a.Setting.Jack != meter.VoltJack || !a.Numeric() {
		return
	}
	w.proved = w.proved || a.reading.High >= w.limit
	points := []string{a.Red, a.Black}
	if slices.Contains(points, "body") && (slices.Contains(points, "earth") || slices.Contains(points, "0")) && w.proved {
		q := faulttree.Quantity{Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
		w.body = &bodyReading{w.meter.MayHurt(a.reading, q, w.limit), maps.Clone(w.off), maps.Clone(w.loads)}
	}
}

// touch is a hand on the body.
func (w *unsafeWatch) touch(i int) {
	switch {
	case w.dead():
	case w.body != nil && w.body.hurts && w.nothingNewOn(w.body):
		w.add(BodyLive, i, "The body was touched after it had read a voltage that can kill.", "stay-off-body")
	case w.body == nil || !w.nothingNewOn(w.body):
		text := "The body was touched on the way through the door before body to earth had been read as things stood then."
		if !w.proved {
			text += " Nor had the meter shown yet that it reads anything."
		}
		w.add(BodyUnknown, i, text, "stay-off-body")
	}
}

// dead reports whether the plug is out: the breaker alone is not enough.
func (w *unsafeWatch) dead() bool {
	for _, s := range w.c.Rig.Switches {
		if (s.Name == "plug" || s.Name == "adapter") && w.off[s.Name] {
			return true
		}
	}
	return false
}

// nothingNewOn reports whether nothing is on now that was off when s was taken.
func (w *unsafeWatch) nothingNewOn(s *bodyReading) bool {
	for name, off := range w.off {
		if !off && s.off[name] {
			return false
		}
	}
	for leg, on := range w.loads {
		if on && !s.loads[leg] {
			return false
		}
	}
	return true
}

// add notes a danger; the same rule with the same words is noted once.
func (w *unsafeWatch) add(rule string, act int, text, card string) {
	if w.told[rule+text] {
		return
	}
	w.told[rule+text] = true
	w.out = append(w.out, UnsafeAct{rule, act, text, card})
}
