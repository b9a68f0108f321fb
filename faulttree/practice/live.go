package practice

import (
	"slices"

	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// beside is asked of a trainee before everything live.
const beside = "Live: is a qualified person beside you?"

// live reports whether an act is done where alternating current may be, as anybody sees
// who knows how the vehicle stands and not what is wrong with it. What only turns off, or
// unplugs, is none: nobody waits with that.
func (v *Learner) live(a Act) bool {
	fed := v.c.fed(v.Off)
	at := func(points ...string) bool {
		return slices.ContainsFunc(points, func(point string) bool { return fed[group(point)] })
	}
	switch a.Kind {
	case Prove:
		return a.Setting.Function != meter.VoltsDC
	case Read:
		return at(a.Red, a.Black) || v.c.Direct() && (a.Red == "earth" || a.Black == "earth")
	case Throw:
		return a.On && slices.ContainsFunc(v.c.Rig.Parts, func(p rig.Part) bool { return p.Switch == a.Name && at(p.A, p.B) })
	case Reset:
		p := v.c.contact(a.Name)
		return at(p.A, p.B)
	case Load, Unplug:
		return a.On && at("body")
	case GoIn, GoOut, Swap:
		return at("body")
	}
	return false
}

// fed is the places, what stands before the dot of a point, that some wire joins to a
// source of alternating current as the switches stand; grounding wires are among them, for
// a fault makes these live. Of a 12 V system they end at the body, the return of which
// shocks nobody; what is read from there to the spike is live.
func (c Case) fed(off func(name string) bool) map[string]bool {
	fed := map[string]bool{}
	for _, p := range c.Rig.Parts {
		if p.Kind == rig.Source && !p.Direct {
			fed[group(p.A)] = true
		}
	}
	for more := true; more; {
		more = false
		for _, p := range c.Rig.Parts {
			wire := p.Kind == rig.Conductor || p.Kind == rig.Joint || p.Kind == rig.Breaker
			a, b := group(p.A), group(p.B)
			if wire && fed[a] != fed[b] && (p.Switch == "" || !off(p.Switch)) && !(c.Direct() && (a == "body" || b == "body")) {
				fed[a], fed[b], more = true, true, true
			}
		}
	}
	return fed
}
