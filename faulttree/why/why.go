package why

import (
	"fmt"
	"math"
	"math/cmplx"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Answer is why a quantity reads what it reads in one vehicle.
type Answer struct {
	Sound, Faulty Value              // without its faults, and with them
	At            faulttree.Quantity // where the probes are, of several readings at the one that counts
	State         bench.State        // how the vehicle stands for it
	Changed       Changed            // what makes the difference; the zero value where nothing does
	Text          []string           // two sentences, or fewer where the circuit supports no more
	Balance       *Balance           // the currents that a sentence tells of; nil where none does
}

// Value is what is read, without a meter's error, in the base unit; ohms without a
// way for the current are infinite.
type Value struct {
	Number float64
	There  bool // false where there is no such reading
	Live   bool // ohms are not read there, for the probes have a voltage
}

// Changed is the part of a fault that makes the difference.
type Changed struct {
	Fault string // id
	Part  string // name of a part, "" where two nodes are joined, or the meter or the frequency is at fault
	Edit  int    // of the variant
	Title string // in words, as in a sentence
}

// Balance is an area and every way for current into it or out of it.
type Balance struct {
	Nodes []string
	Ways  []Way
}

// Way is a way of a balance: a part, a join, or the meter.
type Way struct {
	Title string
	Amps  complex128 // into the area
}

// Tells is how much a reading tells of the fault: how far it lies from that of a
// sound vehicle. What is read live comes before ohms, for a dead circuit shows no
// current.
func (a Answer) Tells() float64 {
	by := difference(a.Sound, a.Faulty, a.At.Unit)
	if a.At.Unit == faulttree.Ohms {
		return min(by, ohmsTell)
	}
	return by
}

// ohmsTell is what ohms tell at most: a live reading that tells more is surely
// another.
const ohmsTell = 5

// Live is the live reading that the faults of a vehicle change most; ok is false where
// they change none. Those under load come first: there currents flow that show it.
func Live(r *rig.Rig, setup rig.Setup, all faulttree.Quantities) (most faulttree.Quantity, ok bool, err error) {
	v, err := vehicle.New(r)
	if err != nil {
		return most, false, err
	}
	sound := map[string]Value{}
	least := 1.0
	for _, put := range []rig.Setup{without(setup), setup} {
		if err := v.Put(put); err != nil {
			return most, false, err
		}
		for _, id := range all.IDs() {
			q := all[id]
			if q.Unit == faulttree.Ohms || q.OfMeter() {
				continue
			}
			n, there, err := v.Taken(q)
			if err != nil {
				return most, false, err
			}
			now := Value{Number: n, There: there && !math.IsNaN(n)}
			if len(put.Faults) == 0 {
				sound[id] = now
				continue
			}
			by := difference(sound[id], now, q.Unit)
			if q.Has(faulttree.Loaded) && by > 1 {
				by *= loadedTells
			}
			if now.There && sound[id].There && by > least {
				most, ok, least = q, true, by
			}
		}
	}
	return most, ok, nil
}

// loadedTells is by how much a reading under load goes before another.
const loadedTells = 10

// circuit is one vehicle, read and solved.
type circuit struct {
	rig   *rig.Rig
	setup rig.Setup
	value Value
	*bench.Flow
}

// Of explains what q reads in a vehicle with faults, in figures that a meter would
// show.
func Of(r *rig.Rig, setup rig.Setup, q faulttree.Quantity, m faulttree.Meter) (Answer, error) {
	v, err := vehicle.New(r)
	if err != nil {
		return Answer{}, err
	}
	if setup.Values == nil {
		setup.Values = r.Values()
	}
	if err := v.Put(setup); err != nil {
		return Answer{}, err
	}
	if q.OfMeter() {
		return Answer{At: q}, nil
	}
	at, state, seen, err := v.Counts(q)
	if err != nil {
		return Answer{}, err
	}
	a := Answer{At: at, State: state, Faulty: valueOf(seen, q.Unit)}
	e := explainer{meter: m, vehicle: v, at: at, state: state}
	if e.sound, err = e.solve(r, without(setup)); err != nil {
		return Answer{}, err
	}
	if a.Sound, err = e.taken(q); err != nil || !a.Sound.There && !a.Faulty.There {
		return a, err
	}
	if e.faulty, err = e.solve(r, setup); err != nil {
		return Answer{}, err
	}
	if err := e.explain(&a); err != nil {
		return Answer{}, fmt.Errorf("%s in rig %s: %w", q.ID, r.ID, err)
	}
	return a, nil
}

// without is a vehicle without its faults.
func without(setup rig.Setup) rig.Setup {
	setup.Faults = nil
	return setup
}

func valueOf(m bench.Measured, u faulttree.Unit) Value {
	n, ok := m.Number(u)
	return Value{n, ok && !math.IsNaN(n), m.Hazard}
}

// explainer explains one quantity in one state.
type explainer struct {
	meter         faulttree.Meter
	vehicle       *vehicle.Vehicle
	at            faulttree.Quantity
	state         bench.State
	sound, faulty circuit
}

// solve puts a vehicle on the bench, with the meter in place.
func (e *explainer) solve(r *rig.Rig, setup rig.Setup) (circuit, error) {
	c := circuit{rig: r, setup: setup}
	var err error
	if c.value, err = e.read(setup); err == nil {
		c.Flow, err = e.vehicle.Flow(e.at, e.state)
	}
	return c, err
}

// read is what the probes see in the state that is explained.
func (e *explainer) read(setup rig.Setup) (Value, error) {
	if err := e.vehicle.Put(setup); err != nil {
		return Value{}, err
	}
	m, err := e.vehicle.MeasureIn(e.at, e.state)
	return valueOf(m, e.at.Unit), err
}

// taken is what a reader comes to who takes all readings of q in the vehicle on
// the bench.
func (e *explainer) taken(q faulttree.Quantity) (Value, error) {
	n, ok, err := e.vehicle.Taken(q)
	return Value{Number: n, There: ok && !math.IsNaN(n)}, err
}

// explain finds what makes the difference, and words it.
func (e *explainer) explain(a *Answer) error {
	atom, differs, err := e.decisive()
	if err != nil || atom == nil {
		return err
	}
	a.Changed = Changed{Fault: atom.fault().ID, Edit: atom.edit, Title: e.title(*atom)}
	if atom.part != rig.None {
		a.Changed.Part = e.faulty.rig.Parts[atom.part].Name
	}
	w := writer{explainer: e, atom: *atom}
	w.mentioned = func(b bench.Branch) bool {
		return atom.isJoin(b) || atom.part != rig.None && b.Part == atom.part
	}
	switch {
	case atom.kind() == rig.Misuse:
		w.meterAtFault()
	case !differs:
		w.nothingChanges()
	case e.at.Unit == faulttree.Ohms:
		w.ohms()
	default:
		w.live()
	}
	a.Text, a.Balance = w.text(), w.balance
	return nil
}

// difference is how far apart two readings lie, 1 for what a meter surely tells apart:
// ohms by their ratio, the others by their difference.
func difference(a, b Value, u faulttree.Unit) float64 {
	switch {
	case a.There != b.There:
		return 1e6
	case !a.There:
		return 0
	case u == faulttree.Ohms:
		const most, least = 1e9, 0.05 // OL, and contacts
		x, y := min(a.Number, most)+least, min(b.Number, most)+least
		return math.Abs(math.Log(x/y)) / math.Log(1.05)
	case u == faulttree.AmpsAC || u == faulttree.AmpsDC:
		return math.Abs(a.Number-b.Number) / (0.001 + 0.01*math.Abs(a.Number))
	}
	return math.Abs(a.Number-b.Number) / (0.05 + 0.003*math.Abs(a.Number))
}

// direct reports whether direct current flows while this is read.
func (e *explainer) direct() bool {
	return e.at.Unit == faulttree.VoltsDC || e.at.Unit == faulttree.AmpsDC
}

// magnitude is that of a phasor.
func magnitude(c complex128) float64 { return cmplx.Abs(c) }
