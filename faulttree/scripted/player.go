// Package scripted is learners that play a practice case to the end by a rule:
// one who takes the best order with care, one who takes what tells most next, one
// who takes anything that is permitted, and one who guesses. [UnsafeScripts] are
// goes with one unsafe act each. They judge the marking, and fill a class to try
// it on.
//
// A learner knows what any learner knows: the displays, the rig, the facts, and
// what the handbook makes of them. The hidden faults are none of it. The same
// learner with the same seed plays the same attempt.
package scripted

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// Player does acts on a case and keeps the attempt. Make one with [Begin].
type Player struct {
	Case    practice.Case
	Attempt practice.Attempt
	Found   meter.Setting // how the meter was handed over

	learner *practice.Learner
	at      time.Duration
	body    *bench.State // how things stood when the body was last read
	volts   faulttree.Reading
	felt    faulttree.Amount // what a shock is believed from

	reconsiders bool // what was read on the way to a reading may make another one the next
}

// pause is how long every act takes.
const pause = 20 * time.Second

// Begin puts a player of a role before a case.
func Begin(c practice.Case, role faulttree.Role, m faulttree.Meter) (*Player, error) {
	return begin(c, practice.Attempt{Case: c.ID, Role: role, Meter: m, Rules: practice.Rules})
}

// begin puts a player before a case as an attempt begins.
func begin(c practice.Case, a practice.Attempt) (*Player, error) {
	v, err := c.BeginAs(a)
	if err != nil {
		return nil, err
	}
	return &Player{Case: c, Attempt: a, Found: v.Setting(), learner: v}, nil
}

// errRejected is that an act cannot be done as things stand.
var errRejected = errors.New("it cannot be done as things stand")

// Do does an act, whatever it asks.
func (p *Player) Do(a practice.Act) (practice.Act, error) {
	p.at += pause
	a.Asked, a.At = true, p.at
	done, err := p.learner.Do(a)
	if err != nil {
		return a, err
	}
	last := done[len(done)-1]
	if last.Kind == practice.Reject {
		return last, fmt.Errorf("%w: %s", errRejected, last.Note)
	}
	p.Attempt = p.Attempt.With(done...)
	return last, nil
}

// Set sets the dial as it should be for a function.
func (p *Player) Set(f meter.Function) {
	s := p.learner.Setting()
	s.Function, s.Hold, s.Range, s.Jack = f, false, 0, meter.VoltJack
	p.learner.Set(s)
}

// Dial sets anything of the meter.
func (p *Player) Dial(change func(*meter.Setting)) {
	s := p.learner.Setting()
	change(&s)
	p.learner.Set(s)
}

// Prove puts the meter, rightly set, on a source known to be live.
func (p *Player) Prove() (practice.Act, error) {
	p.Set(p.function())
	return p.Do(practice.Act{Kind: practice.Prove})
}

// function is the volts of the case.
func (p *Player) function() meter.Function {
	if p.Case.Direct() {
		return meter.VoltsDC
	}
	return meter.VoltsAC
}

// Read puts the tips on two points.
func (p *Player) Read(red, black string) (practice.Act, error) {
	return p.Do(practice.Act{Kind: practice.Read, Red: red, Black: black})
}

// Throw turns a switch or moves a plug.
func (p *Player) Throw(name string, on bool) error {
	if p.learner.Off(name) != on {
		return nil // it is so already
	}
	_, err := p.Do(practice.Act{Kind: practice.Throw, Name: name, On: on})
	return err
}

// Unplug turns the breaker off and pulls the plug.
func (p *Player) Unplug() error {
	if err := p.Throw("pedestal", false); err != nil {
		return err
	}
	return p.Throw("plug", false)
}

// Body reads the body to the spike, if nothing tells already what it has as things
// stand. A vehicle without a spike or whose plug is out has nothing to read.
func (p *Player) Body() error {
	if !p.Case.Rig.HasNode("body") || !p.Case.Rig.HasNode("earth") || p.dead() {
		return nil
	}
	st := p.learner.State()
	if p.body != nil && sameState(p.Case.Rig, *p.body, st) {
		return nil
	}
	p.Set(meter.VoltsAC)
	a, err := p.Read("body", "earth")
	if err != nil {
		return err
	}
	p.body, p.volts = &st, a.Reading()
	return nil
}

// dead reports whether a plug of the cord is out.
func (p *Player) dead() bool {
	return slices.ContainsFunc(p.Case.Rig.Switches, func(s rig.Switch) bool { return len(s.Covers) > 0 && p.learner.Off(s.Name) })
}

func sameState(r *rig.Rig, a, b bench.State) bool {
	for _, s := range r.Switches {
		if off(a, s) != off(b, s) {
			return false
		}
	}
	return maps.Equal(a.Tripped, b.Tripped) && !slices.ContainsFunc(r.Legs(), func(leg string) bool { return a.Loads[leg] != b.Loads[leg] })
}

func off(st bench.State, s rig.Switch) bool {
	if is, said := st.Off[s.Name]; said {
		return is
	}
	return s.Off
}

// Conclude ends the attempt, and repairs what was concluded where there is
// anything.
func (p *Player) Conclude(c practice.Conclusion) error {
	p.at += pause
	c.At = p.at
	p.Attempt = p.Attempt.Conclude(c)
	if len(p.Attempt.Acts) == 0 || slices.Equal(c.Faults, []string{practice.NoFault}) {
		return nil
	}
	p.Attempt.Repaired, p.body = len(p.Attempt.Acts), nil
	return p.learner.Repair(c)
}
