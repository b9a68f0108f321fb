package scripted

import (
	"errors"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/vehicle"
)

// Plan is how a player with care comes, after an attempt, to the next reading that a
// quantity takes: what has to be switched and plugged, and the reading last. That is one
// of the body where the way leads through the door and the body is unread as things
// stand. Felt is what a shock is believed from. There are no acts where it is not done
// with care, or cannot be done. Nothing is done to the attempt.
func Plan(c practice.Case, a practice.Attempt, felt faulttree.Amount, t vehicle.Taking) ([]practice.Act, error) {
	p, err := begin(c, practice.Attempt{Case: c.ID, Role: a.Role, Meter: a.Meter, Rules: a.Rules})
	if err != nil {
		return nil, err
	}
	p.felt = felt
	read, err := p.again(a.Acts)
	if err != nil {
		return nil, err
	}
	begun := len(p.Attempt.Acts)
	var first []reading
	for at, st := range t.Each() {
		first = append(first, reading{at, st})
	}
	left := slices.DeleteFunc(slices.Clone(first), func(r reading) bool {
		return slices.ContainsFunc(read, func(o reading) bool { return r.is(o) && mark.Alike(c.Rig, r.at, o.as, r.as) })
	})
	if len(left) == 0 { // all were taken, and are taken once more
		left = first
	}
	if len(left) == 0 {
		return nil, nil
	}
	err = p.takeOne(left[0].at, left[0].as)
	acts := p.Attempt.Acts[begun:]
	if i := slices.IndexFunc(acts, func(x practice.Act) bool { return x.Kind == practice.Read }); i >= 0 {
		return acts[:i+1], nil
	}
	if errors.Is(err, errStays) || errors.Is(err, errRejected) {
		err = nil
	}
	return nil, err
}

// reading is one reading of a quantity, and how the vehicle stands for it.
type reading struct {
	at faulttree.Quantity
	as bench.State
}

// is reports whether two readings are of the same points by the same function.
func (r reading) is(o reading) bool {
	same := r.at.Red == o.at.Red && r.at.Black == o.at.Black || r.at.Red == o.at.Black && r.at.Black == o.at.Red
	return same && functionOf(r.at) == functionOf(o.at)
}

// note keeps a reading of the body, taken as a hand would: a meter of low impedance
// loads a weak source down.
func (p *Player) note(r reading, shown practice.Act) {
	if r.is(reading{at: faulttree.Quantity{Red: "body", Black: "earth", Unit: faulttree.VoltsAC}}) {
		p.body, p.volts = &r.as, shown.Reading()
	}
}

// again does the acts of an attempt over, and returns what was read.
func (p *Player) again(acts []practice.Act) ([]reading, error) {
	var out []reading
	for _, a := range acts {
		if a.Reads() {
			p.learner.Set(a.Setting)
		}
		done, err := p.Do(a)
		if err != nil {
			return out, err
		}
		if a.Kind != practice.Read || !done.Numeric() && done.Shown != "OL" || a.Setting.Hold {
			continue
		}
		q := faulttree.Quantity{Red: a.Red, Black: a.Black, Unit: a.Setting.Function.Unit()}
		if a.Setting.Function == meter.LowZ {
			q.Conditions = []faulttree.Condition{faulttree.LowZ}
		}
		st := p.learner.State()
		out = append(out, reading{q, st})
		p.note(out[len(out)-1], done)
	}
	return out, nil
}
