package practice

import (
	"errors"
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Learner stands before a case, meter in hand. It is for one goroutine.
type Learner struct {
	c       Case
	vehicle *vehicle.Vehicle
	meter   *meter.Multimeter
	within  bool      // inside the vehicle
	tried   []string  // interventions in force, by id, in their order
	stays   bool      // what has tripped stays open until it is reset
	before  *standing // how things stood before the last act, nil where it cannot be taken back

	supervised bool // a trainee, of whom everything live is asked
}

// Begin puts a case before a learner with a meter of this model, by the [Rules] of now.
func (c Case) Begin(model faulttree.Meter) (*Learner, error) { return c.begin(model, Rules) }

// BeginAs puts a case before a learner as an attempt began: with its meter, by its
// rules, and asked as its learner is.
func (c Case) BeginAs(a Attempt) (*Learner, error) {
	v, err := c.begin(a.Meter, a.Rules)
	if err == nil {
		v.supervised = a.Supervised
	}
	return v, err
}

func (c Case) begin(model faulttree.Meter, rules int) (*Learner, error) {
	if rules < 0 || rules > Rules {
		return nil, fmt.Errorf("the attempt goes by rules %d, and this program knows those up to %d; look at it with a later one", rules, Rules)
	}
	if err := errors.Join(c.check(), model.Check()); err != nil {
		return nil, err
	}
	b, err := bench.New(c.Rig)
	if err != nil {
		return nil, err
	}
	v := &Learner{c: c, stays: rules >= 1, vehicle: vehicle.On(b), meter: meter.New(meter.NewFace(model), nil)}
	v.meter.Setting.Function = meter.VoltsAC
	if c.Direct() {
		v.meter.Setting.Function = meter.VoltsDC
	}
	v.meter.Apply(c.Faults)
	for leg, on := range c.Loads {
		v.vehicle.Turn(leg, on)
	}
	return v, v.put()
}

// Setup is the numbers of the case and the faults of its circuit, without the
// mistakes with the meter.
func (c Case) Setup() rig.Setup {
	return rig.Setup{Values: c.Values, Faults: slices.DeleteFunc(slices.Clone(c.Faults), ofMeter)}
}

// Setting is how the meter is set now.
func (v *Learner) Setting() meter.Setting { return v.meter.Setting }

// Set sets the meter. It is no act of its own; a reading tells how the meter
// was set.
func (v *Learner) Set(s meter.Setting) { v.meter.Setting = s }

// Face is the meter's ranges.
func (v *Learner) Face() *meter.Face { return v.meter.Face() }

// Off reports whether a switch is off.
func (v *Learner) Off(name string) bool { return v.vehicle.Off(name) }

// On reports whether the loads of a leg are on.
func (v *Learner) On(leg string) bool { return v.vehicle.On(leg) }

// Inside reports whether the learner is inside the vehicle.
func (v *Learner) Inside() bool { return v.within }

// Tried reports whether an intervention is in force: the other cord is in, the
// appliances are out.
func (v *Learner) Tried(id string) bool { return slices.Contains(v.tried, id) }

// FuseBlown reports whether the fuse of the meter's ampere jack has blown; see
// [ChangeFuse].
func (v *Learner) FuseBlown() bool { return v.meter.FuseBlown }

// State is what is plugged, switched and turned on.
func (v *Learner) State() bench.State { return v.vehicle.State() }

// Picture is the whole circuit as it stands, for when nothing is hidden any
// more: alternating, or direct where the loads are.
func (v *Learner) Picture() (*bench.Picture, error) { return v.vehicle.Solve(v.c.Direct()) }

// Tripped lists the breakers and the like that stand open as the vehicle stands, by
// name. It stays open until it is reset.
func (v *Learner) Tripped() ([]string, error) { return v.vehicle.Tripped(v.c.Direct()) }

// Do does what an act says and returns it with what came of it. Going in or
// out is added where the act asks for it, so there may be more than one. An act
// that cannot be done as things stand comes back as [Reject], with the reason,
// and changes nothing. The error is for an act that is none here, and
// [ErrNotAsked] for one that must be asked first.
func (v *Learner) Do(a Act) ([]Act, error) {
	a = v.withMeter(a)
	if err := v.check(a); err != nil {
		return nil, err
	}
	if why := v.Hindered(a); why != "" {
		return []Act{{Kind: Reject, Red: a.Red, Black: a.Black, Name: a.Name, At: a.At, Note: why}}, nil
	}
	if _, asks := v.Asks(a); asks && !a.Asked {
		return nil, ErrNotAsked
	}
	var done []Act
	if goes := v.throughDoor(a); goes != 0 {
		door, err := v.one(Act{Kind: goes, Asked: true, At: a.At})
		if err != nil {
			return nil, err
		}
		done = append(done, door)
	}
	one, err := v.one(a)
	return append(done, one), err
}

// withMeter is an act as the meter in the learner's hand is set.
func (v *Learner) withMeter(a Act) Act {
	if a.Reads() {
		a.Setting = v.meter.Setting
	}
	return a
}

// one does one act that is possible, and was asked where it must be, and tells what
// it trips.
func (v *Learner) one(a Act) (Act, error) {
	a.Shown, a.Note, a.Hazard, a.Trips, a.reading = "", "", false, nil, faulttree.Reading{}
	a.Asked = a.Asked && v.asked(a)
	if a.Kind != TakeBack && !moves(a) {
		return v.done(a)
	}
	open, err := v.Tripped()
	if err != nil {
		return a, err
	}
	if a, err = v.done(a); err != nil {
		return a, err
	}
	now, err := v.Tripped()
	for _, name := range now {
		if !slices.Contains(open, name) || a.Kind == Reset && name == a.Name {
			a.Trips = append(a.Trips, name)
		}
	}
	return a, err
}

// done is an act once it is done.
func (v *Learner) done(a Act) (Act, error) {
	before := v.standing()
	var err error
	switch a.Kind {
	case GoIn, GoOut:
		v.within = a.Kind == GoIn
	case Throw:
		v.vehicle.Throw(a.Name, a.On)
		if !a.On { // whose switch goes off is reset by that
			v.vehicle.Close(v.c.devicesOf(func(p rig.Part) bool { return p.Switch == a.Name })...)
		}
		err = v.settle()
	case Load:
		v.vehicle.Turn(a.Name, a.On)
		err = v.settle()
	case Reset:
		if !v.open(a.Name) {
			a.Note = "It had not tripped."
		}
		v.vehicle.Close(a.Name)
		err = v.settle()
	case Swap, Unplug:
		err = v.try(a)
	case ChangeFuse:
		if !v.meter.FuseBlown {
			a.Note = "The fuse was whole."
		}
		v.meter.FuseBlown = false
	case TakeBack:
		err = v.stand(*v.before)
		v.before = nil
		return a, err
	case Read, Prove:
		v.before = nil
		err = v.read(&a)
		return a, err
	}
	v.before = &before
	return a, err
}

// throughDoor is the way through the door that an act asks for, 0 for none.
func (v *Learner) throughDoor(a Act) Kind {
	in, out := a.Kind == Load || a.Kind == Unplug || a.Kind == Reset && v.c.Within(a.Name), false
	if a.Kind == Swap {
		out = len(v.plugsOf(a.Name)) > 0
		a.Name = ""
	}
	for _, name := range []string{a.Name, a.Red, a.Black} { // a switch stands at the place of its name
		_, covered := v.c.coveredBy(name)
		in, out = in || slices.Contains(v.c.Rig.Inside, group(name)), out || covered
	}
	switch {
	case !v.hasDoor() || a.Kind == GoIn || a.Kind == GoOut || a.Kind == TakeBack:
		return 0
	case in && !v.within:
		return GoIn
	case out && !in && v.within:
		return GoOut
	}
	return 0
}

// hasDoor reports whether somebody goes in and out: not where nobody supplies
// the vehicle from outside.
func (v *Learner) hasDoor() bool {
	return v.c.Rig.HasNode("body") && v.c.Rig.HasNode("pedestal.n")
}

// coveredPoint says why the tips do not get at a point, "" where they do.
func (v *Learner) coveredPoint(a Act) string {
	for _, point := range []string{a.Red, a.Black} {
		by, covered := v.c.coveredBy(point)
		if !covered || v.Off(by.Name) || slices.Contains(by.Bare, point) {
			continue
		}
		return fmt.Sprintf("The tips do not get there as things stand: %s is in the way.", title(by))
	}
	return ""
}

// Open lists what has tripped and stays open until it is reset, by name. By the [Rules] of
// before nothing does.
func (v *Learner) Open() []string { return v.vehicle.Open() }

// settle keeps open what has tripped, as the vehicle stands now.
func (v *Learner) settle() error {
	if !v.stays {
		return nil
	}
	return v.vehicle.StayOpen(v.c.Direct())
}

// follow does an act over again that was done before, with the meter set as it
// was. The error says why it cannot have been done so.
func (v *Learner) follow(a Act) (Act, error) {
	if err := v.check(a); err != nil {
		return a, err
	}
	if why := v.Hindered(a); why != "" {
		return a, errors.New(why)
	}
	if goes := v.throughDoor(a); goes != 0 {
		return a, errors.New("nobody went in or out, and it is done on the other side of the door")
	}
	if v.asked(a) && !a.Asked {
		return a, ErrNotAsked
	}
	return v.one(a)
}
