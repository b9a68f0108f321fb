package scripted

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/vehicle"
)

// errStays is that a player with care does not do it.
var errStays = errors.New("it is not done with care")

// errRead is that the body was read on the way, so that something else may be worth more
// now.
var errRead = errors.New("the body was read on the way")

// take takes a quantity as the handbook says, each of its readings in its state.
func (p *Player) take(t vehicle.Taking) error {
	for at, st := range t.Each() {
		if err := p.takeOne(at, st); err != nil {
			return err
		}
	}
	return nil
}

// takeOne takes one reading in its state.
func (p *Player) takeOne(at faulttree.Quantity, st bench.State) error {
	read := len(p.Attempt.ReadingsAt())
	if err := p.bring(at, st); err != nil {
		return err
	}
	if err := p.careful(practice.Act{Kind: practice.Read, Red: at.Red, Black: at.Black}); err != nil {
		return err
	}
	if p.reconsiders && len(p.Attempt.ReadingsAt()) > read {
		return errRead
	}
	p.Set(functionOf(at))
	a, err := p.Read(at.Red, at.Black)
	if err == nil {
		p.note(reading{at, p.learner.State()}, a)
	}
	return err
}

// functionOf is where the dial stands for a quantity.
func functionOf(q faulttree.Quantity) meter.Function {
	switch {
	case q.Has(faulttree.LowZ):
		return meter.LowZ
	case q.Unit == faulttree.VoltsDC:
		return meter.VoltsDC
	case q.Unit == faulttree.Ohms:
		return meter.Ohms
	case q.Unit == faulttree.AmpsAC:
		return meter.AmpsAC
	case q.Unit == faulttree.AmpsDC:
		return meter.AmpsDC
	}
	return meter.VoltsAC
}

// bring puts the vehicle into a state as far as it makes a difference to a reading:
// plugs with the breaker off, loads before the plug is in again.
func (p *Player) bring(q faulttree.Quantity, want bench.State) error {
	r := p.Case.Rig
	if mark.Alike(r, q, p.learner.State(), want) {
		return p.uncover(q, want)
	}
	breaker, moves := true, false
	for _, s := range r.Switches {
		if s.Name == "pedestal" {
			breaker = !off(want, s)
		}
		moves = moves || len(s.Covers) > 0 && off(want, s) != p.learner.Off(s.Name)
	}
	inside := slices.ContainsFunc(r.Legs(), func(leg string) bool { return want.Loads[leg] != p.learner.On(leg) })
	if inside && !p.dead() && !p.calm() {
		moves = true
	}
	if moves {
		if err := p.turn("pedestal", false); err != nil {
			return err
		}
		if inside {
			if err := p.pull(); err != nil {
				return err
			}
		}
	}
	if err := p.switches(want, false); err != nil {
		return err
	}
	if mark.Alike(r, q, p.learner.State(), want) { // a pulled plug has done it: nobody goes in for the loads
		return p.uncover(q, want)
	}
	for _, leg := range r.Legs() { // nothing is fed any more that need not be
		if on := want.Loads[leg]; on != p.learner.On(leg) {
			if err := p.carefully(practice.Act{Kind: practice.Load, Name: leg, On: on}); err != nil {
				return err
			}
		}
	}
	if err := p.switches(want, true); err != nil {
		return err
	}
	if p.has("pedestal") && p.learner.Off("pedestal") == breaker && !mark.Alike(r, q, p.learner.State(), want) {
		if err := p.turn("pedestal", breaker); err != nil {
			return err
		}
	}
	if mark.Alike(r, q, p.learner.State(), want) {
		return nil
	}
	return p.reset()
}

// reset resets what has tripped and would not trip again as things stand.
func (p *Player) reset() error {
	for _, name := range slices.Sorted(maps.Keys(p.learner.State().Tripped)) {
		a := practice.Act{Kind: practice.Reset, Name: name}
		if p.learner.Hindered(a) == "" {
			if err := p.carefully(a); err != nil {
				return err
			}
			continue
		}
		by := p.Case.SwitchOf(name)
		if err := p.turn(by, false); err != nil {
			return err
		}
		if err := p.turn(by, true); err != nil {
			return err
		}
	}
	return nil
}

// uncover pulls the plugs of a state that are in the way of the tips, with the breaker
// off.
func (p *Player) uncover(q faulttree.Quantity, want bench.State) error {
	if p.learner.Hindered(practice.Act{Kind: practice.Read, Red: q.Red, Black: q.Black}) == "" {
		return nil
	}
	if !p.dead() {
		if err := p.turn("pedestal", false); err != nil {
			return err
		}
	}
	for _, s := range p.Case.Rig.Switches {
		if len(s.Covers) > 0 && off(want, s) {
			if err := p.turn(s.Name, false); err != nil {
				return err
			}
		}
	}
	return nil
}

// switches throws those that are on, or off, in a state, but for the breaker.
func (p *Player) switches(want bench.State, on bool) error {
	for _, s := range p.Case.Rig.Switches {
		if s.Name != "pedestal" && off(want, s) != on && off(want, s) != p.learner.Off(s.Name) {
			if err := p.carefully(practice.Act{Kind: practice.Throw, Name: s.Name, On: on}); err != nil {
				return err
			}
		}
	}
	return nil
}

// turn throws a switch that may be thrown, with care.
func (p *Player) turn(name string, on bool) error {
	if !p.has(name) || p.learner.Off(name) != on {
		return nil
	}
	return p.carefully(practice.Act{Kind: practice.Throw, Name: name, On: on})
}

func (p *Player) has(name string) bool { return slices.Contains(p.Case.May, name) }

// pull pulls the first plug of the cord.
func (p *Player) pull() error {
	for _, s := range p.Case.Rig.Switches {
		if len(s.Covers) > 0 && p.has(s.Name) {
			return p.turn(s.Name, false)
		}
	}
	return nil
}

// carefully does an act if a player with care does.
func (p *Player) carefully(a practice.Act) error {
	if err := p.careful(a); err != nil {
		return err
	}
	_, err := p.Do(a)
	return err
}

// careful reads the body before an act that leads through the door, and says where
// it must not be done.
func (p *Player) careful(a practice.Act) error {
	question, asks := p.learner.Asks(a)
	if !asks || !strings.Contains(question, "a hand on the body") || p.dead() {
		return nil
	}
	if err := p.Body(); err != nil {
		return err
	}
	if !p.calm() {
		return fmt.Errorf("%w: the body reads %s", errStays, p.volts.Show(faulttree.VoltsAC))
	}
	return nil
}

// calm reports whether the body was read as things stand, and less than what a shock
// is believed from.
func (p *Player) calm() bool {
	return !p.Case.Rig.HasNode("earth") || p.body != nil && sameState(p.Case.Rig, *p.body, p.learner.State()) &&
		!p.Attempt.Meter.MayHurt(p.volts, faulttree.Quantity{Unit: faulttree.VoltsAC}, p.felt)
}
