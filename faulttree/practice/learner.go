package practice

import (
	"cmp"
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
	within  bool // inside the vehicle
}

// Begin puts a case before a learner with a meter of this model.
func (c Case) Begin(model faulttree.Meter) (*Learner, error) {
	b, err := bench.New(c.Rig)
	if err != nil {
		return nil, err
	}
	return c.on(b, meter.NewFace(model))
}

// on is the case on a bench that others may have used before.
func (c Case) on(b *bench.Bench, face *meter.Face) (*Learner, error) {
	v := &Learner{c: c, vehicle: vehicle.On(b), meter: meter.New(face, nil)}
	v.meter.Setting.Function = meter.VoltsAC
	if c.Direct() {
		v.meter.Setting.Function = meter.VoltsDC
	}
	v.meter.Apply(c.Faults)
	for leg, on := range c.Loads {
		v.vehicle.Turn(leg, on)
	}
	return v, v.vehicle.Put(c.setup())
}

// setup is the numbers of the case and the faults of its circuit.
func (c Case) setup() rig.Setup {
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

// State is what is plugged, switched and turned on.
func (v *Learner) State() bench.State { return v.vehicle.State() }

// Picture is the whole circuit as it stands, for when nothing is hidden any
// more: alternating, or direct where the loads are.
func (v *Learner) Picture() (*bench.Picture, error) { return v.vehicle.Solve(v.c.Direct()) }

// Do does what an act says and returns it with what came of it. Going in or
// out is added where the act asks for it, so there may be more than one.
func (v *Learner) Do(a Act) ([]Act, error) {
	var done []Act
	if goes := v.throughDoor(a); goes != 0 {
		v.within = goes == GoIn
		done = append(done, Act{Kind: goes})
	}
	switch a.Kind {
	case GoIn, GoOut:
		if v.within == (a.Kind == GoIn) {
			return nil, nil
		}
		v.within = a.Kind == GoIn
	case Throw:
		if !slices.Contains(v.c.May, a.Name) {
			return nil, fmt.Errorf("the switch %q may not be thrown here", a.Name)
		}
		v.vehicle.Throw(a.Name, a.On)
	case Load:
		v.vehicle.Turn(a.Name, a.On)
	case Read:
		if hidden := v.coveredPoint(a); hidden != "" {
			return []Act{{Kind: Reject, Red: a.Red, Black: a.Black, Note: hidden}}, nil
		}
		if err := v.read(&a); err != nil {
			return nil, err
		}
	case Prove:
		a.Red, a.Black = "", ""
		if err := v.read(&a); err != nil {
			return nil, err
		}
	default:
		return nil, fmt.Errorf("there is no act of kind %d", a.Kind)
	}
	return append(done, a), nil
}

// throughDoor is the way through the door that an act asks for, 0 for none.
func (v *Learner) throughDoor(a Act) Kind {
	in, out := a.Kind == Load, false
	for _, name := range []string{a.Name, a.Red, a.Black} { // a switch stands at the place of its name
		_, covered := v.c.coveredBy(name)
		in, out = in || slices.Contains(v.c.Rig.Inside, group(name)), out || covered
	}
	switch {
	case !v.c.Rig.HasNode("body") || !v.c.Rig.HasNode("pedestal.n"):
		return 0 // nobody supplies it from outside
	case in && !v.within:
		return GoIn
	case out && !in && v.within:
		return GoOut
	}
	return 0
}

// coveredPoint says why the tips do not get at a point, "" where they do.
func (v *Learner) coveredPoint(a Act) string {
	for _, point := range []string{a.Red, a.Black} {
		by, covered := v.c.coveredBy(point)
		if !covered || v.Off(by.Name) {
			continue
		}
		return fmt.Sprintf("The tips do not get there as things stand: %s is in the way.", cmp.Or(by.Title, by.Name))
	}
	return ""
}

// read reads the meter and writes what it shows into the act.
func (v *Learner) read(a *Act) error {
	a.Setting = v.meter.Setting
	f := a.Setting.Function
	q := faulttree.Quantity{ID: a.Red + "-" + a.Black, Title: "between the probes", Unit: f.Unit(), Red: a.Red, Black: a.Black,
		Range: 600 * faulttree.One, Most: faulttree.Highest}
	if f == meter.AmpsAC || f == meter.AmpsDC {
		q.Black, a.Black = "", ""
	}
	if a.Kind == Prove {
		q.Proves = faulttree.ProvesVoltsAC
		if f == meter.VoltsDC {
			q.Proves = faulttree.ProvesVoltsDC
		}
	}
	shown, err := v.meter.Read(v.vehicle, q)
	if err != nil {
		return err
	}
	a.reading = shown.Reading
	a.Shown, a.Note, a.Hazard = shown.Text, shown.Reading.Reason, shown.Hazard != ""
	switch {
	case shown.Hazard != "":
		a.Note = shown.Hazard
	case shown.Text != "" && shown.Text != "OL":
		a.Shown += " " + shown.Unit
	}
	if shown.Beeps {
		a.Note = "It beeps."
	}
	return nil
}

// Live reports whether the body stands at or above a limit to earth as things
// are.
func (v *Learner) Live(limit faulttree.Amount) bool {
	q := faulttree.Quantity{Unit: faulttree.VoltsAC, Red: "body", Black: "earth"}
	m, err := v.vehicle.Measure(q, bench.HighImpedance)
	volts, ok := m.Number(q.Unit)
	return err == nil && ok && limit > 0 && volts >= limit.Float()
}

// Restore is an attempt that was kept or sent as its exported fields only: its
// acts are done over again, so that what the displays showed is known from the
// case and not from the sender.
func (c Case) Restore(a Attempt, model faulttree.Meter) (Attempt, error) {
	v, err := c.Begin(model)
	if err != nil {
		return Attempt{}, err
	}
	out := Attempt{Case: a.Case, Named: a.Named}
	for i, act := range a.Acts {
		if act.Kind == Read || act.Kind == Prove {
			v.Set(act.Setting)
		}
		done, err := v.Do(act)
		if err != nil {
			return Attempt{}, fmt.Errorf("act %d: %w", i+1, err)
		}
		out.Acts = append(out.Acts, done...)
	}
	return out, nil
}

// Replay does the acts of an attempt over again on a case, with the meter set
// as it was each time, and returns the readings.
func (c Case) Replay(acts []Act, b *bench.Bench, face *meter.Face) ([]Act, error) {
	v, err := c.on(b, face)
	if err != nil {
		return nil, err
	}
	var out []Act
	for _, a := range acts {
		if a.Kind == Read || a.Kind == Prove {
			v.meter.Setting = a.Setting
		}
		if a.Kind == Reject {
			continue
		}
		done, err := v.Do(a)
		if err != nil {
			return nil, err
		}
		for _, d := range done {
			if d.Kind == Read || d.Kind == Prove || d.Kind == Reject {
				out = append(out, d)
			}
		}
	}
	return out, nil
}
