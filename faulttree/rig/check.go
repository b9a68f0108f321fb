package rig

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"faultwright/faulttree/source"
)

// RuleRig is the rule that a rig without sense breaks.
const RuleRig = "rig"

// most is the largest value a rig may have, by unit: beyond it a number is a
// slip of the pen.
var most = [...]float64{Volts: 1e5, Degrees: 360, Ohms: 1e13, Henries: 1e3, Farads: 1, FaradsPerMetre: 1e-6, Metres: 1e5, Gauge: 40, Watts: 1e6, Amperes: 1e5, Hertz: 1e3, Celsius: 120, Ratio: 1}

// tiny is the smallest size of a value but 0, by unit: what is below it cannot
// be told from 0 by what is computed with it.
var tiny = [...]float64{Volts: 1e-9, Ohms: 1e-12, Henries: 1e-15, Farads: 1e-21, FaradsPerMetre: 1e-21, Metres: 1e-9, Watts: 1e-9, Amperes: 1e-12, Hertz: 1e-6, Ratio: 1e-6}

// Allows returns an error unless a value makes sense for the parameter.
func (p *Param) Allows(v float64) error {
	least := 0.0
	switch p.Unit {
	case Degrees:
		least = -360
	case Celsius:
		least = -60
	case Gauge:
		least = -3
	case Volts:
		least = -most[Volts]
	}
	if math.IsNaN(v) || v < least || v > most[p.Unit] {
		return fmt.Errorf("%s is %g %s; expected %g to %g %s", p.Name, v, p.Unit.Symbol(), least, most[p.Unit], p.Unit.Symbol())
	}
	if v != 0 && math.Abs(v) < tiny[p.Unit] {
		return fmt.Errorf("%s is %g %s; expected 0, or a size of %g %s and more", p.Name, v, p.Unit.Symbol(), tiny[p.Unit], p.Unit.Symbol())
	}
	return nil
}

// needs lists the attributes a part of a kind must have.
var needs = map[Kind][]Attribute{
	Source: {AttrVolts}, Resistance: {AttrOhms}, Inductance: {AttrHenries},
	Load: {AttrWatts, AttrAtVolts}, Charger: {AttrVolts, AttrOhms, AttrLimit},
}

// Check says what is absurd, missing or contradictory in a rig, each at its
// line, as far as that is known without solving its circuit. A rig with errors
// must not be put on a bench.
func (r *Rig) Check() source.List {
	var list source.List
	for i := range r.Params {
		p := &r.Params[i]
		if p.Unit == 0 || int(p.Unit) >= len(most) {
			list.Add(p.Pos, RuleRig, "%s has no unit", p.Name)
			continue
		}
		for _, v := range []float64{p.Value, p.From, p.To} {
			if err := p.Allows(v); err != nil {
				list.Add(p.Pos, RuleRig, "%v", err)
				break
			}
		}
		if !(p.From <= p.Value && p.Value <= p.To) {
			list.Add(p.Pos, RuleRig, "%s is %g %s and is drawn from %g to %g: the ordinary value stands outside its range", p.Name, p.Value, p.Unit.Symbol(), p.From, p.To)
		}
		if p.Log && p.From <= 0 {
			list.Add(p.Pos, RuleRig, "%s is drawn evenly in the logarithm from %g; expected a range above zero", p.Name, p.From)
		}
	}
	names, switches := map[string]bool{}, map[string]bool{}
	for _, s := range r.Switches {
		if switches[s.Name] {
			list.Add(s.Pos, RuleRig, "switch %s stands twice", s.Name)
		}
		switches[s.Name] = true
	}
	for i := range r.Parts {
		r.checkPart(&list, &r.Parts[i], names, switches)
	}
	r.checkVarieties(&list, switches)
	for name, index := range map[string]int{"hertz": r.Hertz, "celsius": r.Celsius} {
		if index < 0 || index >= len(r.Params) {
			list.Add(r.Pos, RuleRig, "rig %s has no %s", r.ID, name)
		}
	}
	if !r.HasNode("0") {
		list.Add(r.Pos, RuleRig, "no part of rig %s ends at 0, remote earth", r.ID)
	}
	list.Sort()
	return list
}

func (r *Rig) checkVarieties(list *source.List, switches map[string]bool) {
	if len(r.Varieties) > 64 {
		list.Add(r.Pos, RuleRig, "rig %s has %d varieties; at most 64 are possible", r.ID, len(r.Varieties))
	}
	for _, v := range r.Varieties {
		if !(v.Share > 0 && v.Share <= 1) {
			list.Add(v.Pos, RuleRig, "variety %s has a share of %g; expected more than 0 and at most 1", v.Name, v.Share)
		}
		for _, name := range v.Open {
			if len(r.Named(name)) == 0 {
				list.Add(v.Pos, RuleRig, "variety %s opens %s, which the rig does not have", v.Name, name)
			}
		}
		for _, name := range v.Without {
			if !switches[name] {
				list.Add(v.Pos, RuleRig, "variety %s waits for switch %s, which the rig does not have", v.Name, name)
			}
		}
	}
}

func (r *Rig) checkPart(list *source.List, p *Part, names, switches map[string]bool) {
	if names[p.Name] {
		list.Add(p.Pos, RuleRig, "part %s stands twice", p.Name)
	}
	names[p.Name] = true
	if p.A == p.B {
		list.Add(p.Pos, RuleRig, "both ends of part %s are at %s", p.Name, p.A)
	}
	if p.Switch != "" && !switches[p.Switch] {
		list.AddHint(p.Pos, RuleRig, source.DidYouMean(p.Switch, slices.Collect(maps.Keys(switches))), "part %s is on switch %s, which the rig does not have", p.Name, p.Switch)
	}
	for _, a := range needs[p.Kind] {
		if p.Params[a] == None {
			list.Add(p.Pos, RuleRig, "%s %s has no %s", p.Kind, p.Name, a)
		}
	}
	switch {
	case p.Kind == Conductor && p.Params[AttrOhms] == None && (p.Params[AttrGauge] == None || p.Params[AttrLength] == None):
		list.Add(p.Pos, RuleRig, "conductor %s has neither ohms nor gauge and length", p.Name)
	case p.Kind == Capacitance && p.Params[AttrFarads] == None && (p.Params[AttrPerMetre] == None || p.Params[AttrLength] == None):
		list.Add(p.Pos, RuleRig, "capacitance %s has no farads", p.Name)
	case p.Kind == Breaker && (p.Params[AttrOhms] == None || r.mayBeZero(p.Params[AttrOhms])):
		list.Add(p.Pos, RuleRig, "breaker %s has no resistance; expected some milliohms, or its current is not known and it never opens", p.Name)
	case p.Kind == Load && p.Leg == "" && !p.Always:
		list.Add(p.Pos, RuleRig, "load %s is on no leg", p.Name)
	}
	for a, i := range p.Params {
		if i != None && (i < 0 || i >= len(r.Params)) {
			list.Add(p.Pos, RuleRig, "%s of part %s is no parameter of the rig", Attribute(a), p.Name)
		}
	}
}

// mayBeZero reports whether a parameter can be nothing.
func (r *Rig) mayBeZero(i int) bool { return i < len(r.Params) && r.Params[i].From <= 0 }

// mainAttribute is the attribute that a part's name alone stands for.
func (p *Part) mainAttribute() Attribute {
	switch p.Kind {
	case Source, Charger:
		return AttrVolts
	case Conductor:
		if p.Params[AttrOhms] != None {
			return AttrOhms
		}
		return AttrLength
	case Capacitance:
		return AttrFarads
	case Inductance:
		return AttrHenries
	case Load:
		return AttrWatts
	}
	return AttrOhms
}

// Nodes lists the nodes in the order of the parts, remote earth left out.
func (r *Rig) Nodes() []string {
	var names []string
	seen := map[string]bool{"0": true}
	for _, p := range r.Parts {
		for _, n := range []string{p.A, p.B} {
			if !seen[n] {
				seen[n] = true
				names = append(names, n)
			}
		}
	}
	return names
}

// Direct reports whether the rig has sources of direct current only.
func (r *Rig) Direct() bool {
	return !slices.ContainsFunc(r.Parts, func(p Part) bool { return p.Kind == Source && !p.Direct })
}
