package practice

import (
	"cmp"
	"errors"
	"fmt"
	"slices"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// check reports what is wrong with an act as an act before this case, however
// things stand.
func (v *Learner) check(a Act) error {
	r := v.c.Rig
	if a.At < 0 || a.At > longestDuration {
		return fmt.Errorf("it is said to have been done %v after the beginning", a.At)
	}
	if !a.Setting.Valid() || a.Reads() && a.Setting.Function == meter.AsAsked {
		return fmt.Errorf("no meter can be set so: %+v", a.Setting)
	}
	switch a.Kind {
	case GoIn, GoOut:
		if !v.hasDoor() {
			return errors.New("there is no going in or out here: all that can be read is where you stand")
		}
	case Throw:
		if !slices.Contains(v.c.May, a.Name) || !slices.ContainsFunc(r.Switches, func(s rig.Switch) bool { return s.Name == a.Name }) {
			return fmt.Errorf("the switch %q may not be thrown here", a.Name)
		}
	case Load:
		if !slices.Contains(r.Legs(), a.Name) {
			return fmt.Errorf("the rig %s has no loads on %q", r.ID, a.Name)
		}
	case Swap, Unplug:
		i, known := v.c.intervention(a.Name)
		if !known || i.Unloaded != (a.Kind == Unplug) {
			return fmt.Errorf("%q cannot be tried here; what can is %q", a.Name, v.c.triedBy(a.Kind))
		}
	case Read:
		for _, point := range []string{a.Red, a.Black} {
			if point != "" && point != "0" && !r.HasNode(point) {
				return fmt.Errorf("the rig %s has no point %q", r.ID, point)
			}
		}
		if a.Red == "" {
			return fmt.Errorf("the red probe is nowhere")
		}
	case Reset:
		if all := v.c.devicesOf(func(rig.Part) bool { return true }); !slices.Contains(all, a.Name) {
			return fmt.Errorf("the rig %s has nothing to reset at %q; it has %q", r.ID, a.Name, all)
		}
	case Prove, ChangeFuse, TakeBack:
	default:
		return fmt.Errorf("there is no act of kind %d", a.Kind)
	}
	return nil
}

// alreadySo is why nothing is done where it would change nothing.
const alreadySo = "It is so already."

// Hindered says why an act cannot be done as things stand, "" where it can.
func (v *Learner) Hindered(a Act) string {
	switch a.Kind {
	case GoIn:
		if v.within {
			return "You are inside already."
		}
	case GoOut:
		if !v.within {
			return "You are outside already."
		}
	case Read:
		return v.coveredPoint(a)
	case Throw:
		switch of := v.c.devicesOf(func(p rig.Part) bool { return p.Switch == a.Name }); {
		case v.Off(a.Name) == a.On:
		case a.On && slices.ContainsFunc(of, v.open):
			return "It has tripped: turn it off first, then on."
		default:
			return alreadySo
		}
	case Reset:
		if slices.Contains(v.c.May, v.c.SwitchOf(a.Name)) {
			return "Turn it off, and then on: that resets it."
		}
	case Load:
		switch {
		case v.On(a.Name) == a.On:
			return alreadySo
		case a.On && v.unplugged():
			return "The appliances are unplugged."
		}
	case Swap:
		if v.Tried(a.Name) == a.On {
			return alreadySo
		}
		for _, s := range v.plugsOf(a.Name) {
			if !v.Off(s.Name) && slices.Contains(v.c.May, s.Name) {
				return fmt.Sprintf("It cannot be exchanged as things stand: %s is in.", title(s))
			}
		}
	case Unplug:
		if v.Tried(a.Name) != a.On {
			return alreadySo
		}
	case TakeBack:
		if v.before == nil {
			return "There is nothing to take back: a slip is taken back at once, before anything is read."
		}
	}
	return ""
}

// open reports whether something has tripped and stays open, by name.
func (v *Learner) open(device string) bool { return slices.Contains(v.vehicle.Open(), device) }

// Resets lists what can be reset as things stand, by name: what has tripped, and has no
// switch that may be thrown.
func (v *Learner) Resets() []string {
	return lists.Where(v.vehicle.Open(), func(name string) bool { return v.Hindered(Act{Kind: Reset, Name: name}) == "" })
}

// devicesOf lists the breakers and the like of which some part fits, by name.
func (c Case) devicesOf(fits func(rig.Part) bool) []string {
	var out []string
	for _, p := range c.Rig.Parts {
		if p.Kind == rig.Breaker && fits(p) {
			out = lists.With(out, p.Run)
		}
	}
	return out
}

// SwitchOf is the switch of a breaker or the like, "" where it has none.
func (c Case) SwitchOf(device string) string { return c.contact(device).Switch }

// contact is the first contact of a breaker or the like, by name.
func (c Case) contact(device string) rig.Part {
	p, _ := lists.Find(c.Rig.Parts, func(p rig.Part) bool { return p.Kind == rig.Breaker && p.Run == device })
	return p
}

// Within reports whether one goes inside to a breaker or the like: where one of its
// contacts, or its switch, is inside.
func (c Case) Within(device string) bool {
	p := c.contact(device)
	return slices.ContainsFunc([]string{group(p.A), group(p.B), p.Switch}, func(at string) bool { return slices.Contains(c.Rig.Inside, at) })
}

// switchNamed is the switch of this name.
func (c Case) switchNamed(name string) (rig.Switch, bool) {
	i := slices.IndexFunc(c.Rig.Switches, func(s rig.Switch) bool { return s.Name == name })
	if i < 0 {
		return rig.Switch{Name: name}, false
	}
	return c.Rig.Switches[i], true
}

// title is that of a switch, or its name.
func title(s rig.Switch) string { return cmp.Or(s.Title, s.Name) }
