package scripted

import (
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
)

// UnsafeScript is a go with unsafe acts.
type UnsafeScript struct {
	Name  string
	Role  faulttree.Role
	Shore bool // only where a cord brings the current
	Rules []rubric.Rule
	Play  func(p *Player) error
}

// steps does one thing after the other.
func steps(all ...func(*Player) error) func(*Player) error {
	return func(p *Player) error {
		for _, one := range all {
			if err := one(p); err != nil {
				return err
			}
		}
		return nil
	}
}

func prove(p *Player) error  { _, err := p.Prove(); return err }
func unplug(p *Player) error { return p.Unplug() }
func body(p *Player) error   { p.body = nil; return p.Body() }

func act(a practice.Act) func(*Player) error {
	return func(p *Player) error { _, err := p.Do(a); return err }
}

func throw(name string, on bool) func(*Player) error {
	return func(p *Player) error { return p.Throw(name, on) }
}

func read(f meter.Function, red, black string) func(*Player) error {
	return func(p *Player) error { p.Set(f); _, err := p.Read(red, black); return err }
}

func dialed(change func(*meter.Setting), then func(*Player) error) func(*Player) error {
	return func(p *Player) error { p.Set(p.function()); p.Dial(change); return then(p) }
}

func conclude(fault string) func(*Player) error {
	return func(p *Player) error { return p.Conclude(practice.Conclusion{Faults: []string{fault}}) }
}

var (
	in     = act(practice.Act{Kind: practice.GoIn})
	out    = act(practice.Act{Kind: practice.GoOut})
	loadOn = act(practice.Act{Kind: practice.Load, Name: "l1", On: true})
	amps   = dialed(func(s *meter.Setting) { s.Jack = meter.AmpereJack }, func(p *Player) error { _, err := p.Read("panel.l1", "panel.n"); return err })
)

// SoundScripts are goes with one kind of unsafe act each, made for a sound coach of
// 50 A with its loads off, and nobody shocked. Each rule stands once for every time.
func SoundScripts() []UnsafeScript {
	q, o := faulttree.Qualified, faulttree.Owner
	return []UnsafeScript{
		{"a verdict on a reading, the meter unproved", q, true, []rubric.Rule{rubric.MeterUnproved}, steps(unplug, read(meter.VoltsAC, "plug.l1", "plug.n"), conclude(practice.NoFault))},
		{"a verdict after a proof with the hold on", q, true, []rubric.Rule{rubric.MeterUnproved}, steps(dialed(func(s *meter.Setting) { s.Hold = true }, act(practice.Act{Kind: practice.Prove})), unplug, read(meter.VoltsAC, "plug.l1", "plug.n"), conclude(practice.NoFault))},
		{"ohms in the live panel", q, true, []rubric.Rule{rubric.OhmsOnLive}, steps(prove, body, in, read(meter.Ohms, "panel.l1", "panel.n"))},
		{"ohms in the live panel, twice", q, true, []rubric.Rule{rubric.OhmsOnLive, rubric.OhmsOnLive}, steps(prove, body, in, read(meter.Ohms, "panel.l1", "panel.n"), read(meter.Ohms, "panel.l1", "panel.n"))},
		{"the beeper in the live panel", q, true, []rubric.Rule{rubric.OhmsOnLive}, steps(prove, body, in, read(meter.Continuity, "panel.l1", "panel.g"))},
		{"ohms on a source known to be live", q, true, []rubric.Rule{rubric.OhmsOnLive}, steps(dialed(func(s *meter.Setting) { s.Function = meter.Ohms }, act(practice.Act{Kind: practice.Prove})))},
		{"ohms in the pedestal", q, true, []rubric.Rule{rubric.OhmsOnLive}, steps(prove, unplug, throw("pedestal", true), read(meter.Ohms, "pedestal.l1", "pedestal.n"))},
		{"the ampere jack across the panel", q, true, []rubric.Rule{rubric.AmpereJack}, steps(prove, body, in, amps)},
		{"the ampere jack again, its fuse blown", q, true, []rubric.Rule{rubric.AmpereJack, rubric.AmpereJack}, steps(prove, body, in, amps, amps)},
		{"the ampere jack at a known source", q, true, []rubric.Rule{rubric.AmpereJack}, steps(dialed(func(s *meter.Setting) { s.Jack = meter.AmpereJack }, act(practice.Act{Kind: practice.Prove})))},
		{"through the door, the body unread", q, true, []rubric.Rule{rubric.BodyUnknown}, steps(prove, in)},
		{"through the door and out again, unread", q, true, []rubric.Rule{rubric.BodyUnknown, rubric.BodyUnknown}, steps(prove, in, out)},
		{"the body read by a meter that had shown nothing", q, true, []rubric.Rule{rubric.BodyUnknown}, steps(body, in)},
		{"the body read on low impedance", q, true, []rubric.Rule{rubric.BodyUnknown}, steps(prove, read(meter.LowZ, "body", "earth"), in)},
		{"the body read with the hold on", q, true, []rubric.Rule{rubric.BodyUnknown}, steps(prove, dialed(func(s *meter.Setting) { s.Hold = true }, func(p *Player) error { _, err := p.Read("body", "earth"); return err }), in)},
		{"the breaker off is not unplugged", q, true, []rubric.Rule{rubric.BodyUnknown}, steps(prove, throw("pedestal", false), in)},
		{"the plug pulled under power", q, true, []rubric.Rule{rubric.PluggedUnder}, steps(prove, throw("plug", false))},
		{"the plug pushed in under power", q, true, []rubric.Rule{rubric.PluggedUnder}, steps(prove, unplug, throw("pedestal", true), throw("plug", true))},
		{"the cord pulled off the inlet under power", q, true, []rubric.Rule{rubric.PluggedUnder}, steps(prove, throw("inlet", false))},
		{"a load before anything was read of the neutral", q, true, []rubric.Rule{rubric.LoadInDoubt}, steps(prove, body, in, loadOn)},
		{"a live contact inside before any dead test", q, true, []rubric.Rule{rubric.LiveFirst}, steps(prove, body, in, read(meter.VoltsAC, "panel.n", "panel.g"))},
		{"an owner at the panel", o, true, []rubric.Rule{rubric.OpenedByOwner}, steps(prove, unplug, in, read(meter.VoltsAC, "panel.l1", "panel.n"))},
	}
}

// LiveScripts are goes at the same coach with its ground open, so that the body
// stands above the danger limit.
func LiveScripts() []UnsafeScript {
	q := faulttree.Qualified
	return []UnsafeScript{
		{"in after the body read what can kill", q, true, []rubric.Rule{rubric.StopDisobeyed, rubric.BodyLive}, steps(prove, body, in)},
		{"the body read again after it read what can kill", q, true, []rubric.Rule{rubric.StopDisobeyed}, steps(prove, body, body)},
		{"plugged in again after a STOP", q, true, []rubric.Rule{rubric.StopDisobeyed}, steps(prove, body, unplug, throw("plug", true))},
	}
}

// pedestal reads between two points of the receptacle, or the spike, the plug out and the breaker off
// again afterwards.
func pedestal(red, black string) func(*Player) error {
	return steps(unplug, throw("pedestal", true), read(meter.VoltsAC, red, black), throw("pedestal", false))
}

// replug is the plug pushed in with the breaker off, and then the breaker on.
var replug = steps(throw("plug", true), throw("pedestal", true))

// SupplyScript is a go at a coach whose supply has a fault.
type SupplyScript struct {
	Fault string // as a fault of the catalogue at the supply
	UnsafeScript
}

// SupplyScripts are goes that energise the coach from a supply, after readings that call it
// dangerous, too low or too high or, where no rule is broken, do not.
func SupplyScripts() []SupplyScript {
	q := faulttree.Qualified
	bad := []rubric.Rule{rubric.BadSupply}
	l1, l2, across := pedestal("pedestal.l1", "pedestal.n"), pedestal("pedestal.l2", "pedestal.n"), pedestal("pedestal.l1", "pedestal.l2")
	spike, hotGround, neutralGround := pedestal("pedestal.g", "earth"), pedestal("pedestal.l1", "pedestal.g"), pedestal("pedestal.n", "pedestal.g")
	another := act(practice.Act{Kind: practice.Swap, Name: "another-receptacle", On: true})
	takeBack := act(practice.Act{Kind: practice.TakeBack})
	return []SupplyScript{
		{"reversed-polarity", UnsafeScript{"energised after the neutral read 119 V to ground", q, true, bad, steps(prove, neutralGround, replug)}},
		{"reversed-polarity", UnsafeScript{"plugged in under power after the same reading", q, true, []rubric.Rule{rubric.PluggedUnder, rubric.BadSupply}, steps(prove, neutralGround, throw("pedestal", true), throw("plug", true))}},
		{"reversed-polarity", UnsafeScript{"energised twice after the same reading", q, true, []rubric.Rule{rubric.BadSupply, rubric.BadSupply}, steps(prove, neutralGround, replug, unplug, replug)}},
		{"reversed-polarity", UnsafeScript{"an owner energises it after the same reading", faulttree.Owner, true, bad, steps(prove, neutralGround, replug)}},
		{"reversed-polarity", UnsafeScript{"energised after both legs were read", q, true, bad, steps(prove, l1, l2, across, replug)}},
		{"open-ground", UnsafeScript{"energised after the hot read nothing to ground", q, true, bad, steps(prove, l1, l2, spike, hotGround, replug)}},
		{"open-neutral", UnsafeScript{"energised after a leg gave way to a meter that draws", q, true, bad, steps(prove, unplug, throw("pedestal", true), read(meter.LowZ, "pedestal.l1", "pedestal.n"), throw("pedestal", false), replug)}},
		{"open-neutral", UnsafeScript{"energised after both legs were dead and there was 240 V across", q, true, bad, steps(prove, l1, l2, across, replug)}},
		{"high-leg-delta", UnsafeScript{"energised after a leg read 208 V", q, true, bad, steps(prove, l2, replug)}},
		{"same-leg", UnsafeScript{"energised after nothing was between the legs", q, true, bad, steps(prove, l1, l2, across, replug)}},
		{"open-neutral", UnsafeScript{"energised again after the legs were uneven inside and the neutral whole in cord and vehicle", q, true,
			[]rubric.Rule{rubric.LoadInDoubt, rubric.StopDisobeyed, rubric.StopDisobeyed, rubric.StopDisobeyed, rubric.BadSupply},
			steps(prove, body, in, loadOn, read(meter.VoltsAC, "panel.l1", "panel.n"), read(meter.VoltsAC, "panel.l2", "panel.n"), body, out, unplug, throw("inlet", false), read(meter.Ohms, "plug.n", "cord.n"), throw("inlet", true), read(meter.Ohms, "plug.l1", "plug.n"), replug)}},
		{"open-neutral", UnsafeScript{"dark by the main breaker, out and unplugged after the legs were uneven inside", q, true, []rubric.Rule{rubric.LoadInDoubt},
			steps(prove, body, in, loadOn, read(meter.VoltsAC, "panel.l1", "panel.n"), read(meter.VoltsAC, "panel.l2", "panel.n"), throw("main", false), out, unplug, read(meter.Ohms, "plug.n", "body"))}},
		{"reversed-polarity", UnsafeScript{"plugged in with the breaker off, and left so", q, true, nil, steps(prove, neutralGround, throw("plug", true))}},
		{"reversed-polarity", UnsafeScript{"energised by a slip of the hand, taken back at once", q, true, nil, steps(prove, neutralGround, replug, takeBack)}},
		{"reversed-polarity", UnsafeScript{"energised at another receptacle, which is unread", q, true, nil, steps(prove, neutralGround, another, replug)}},
		{"reversed-polarity", UnsafeScript{"energised after the repair", q, true, nil, steps(prove, neutralGround, conclude("reversed-polarity"), replug)}},
		{"open-ground", UnsafeScript{"energised after another thing was repaired, and it was read anew", q, true, bad, steps(prove, l1, hotGround, conclude("reversed-polarity"), l1, l2, spike, hotGround, replug)}},
		{"low-supply", UnsafeScript{"energised from a supply that read far too low", q, true, []rubric.Rule{rubric.LowSupply}, steps(prove, l1, replug)}},
		{"high-supply", UnsafeScript{"energised from a supply that read too high", q, true, []rubric.Rule{rubric.HighSupply}, steps(prove, l1, replug)}},
		{"", UnsafeScript{"energised from a supply that reads well", q, true, nil, steps(prove, l1, l2, across, hotGround, neutralGround, replug)}},
		{"open-neutral-inside", UnsafeScript{"energised from a supply that reads well, with a fault aboard", q, true, nil, steps(prove, l1, l2, across, hotGround, neutralGround, replug)}},
	}
}
