package bench

import (
	"fmt"
	"math"
	"math/cmplx"

	"faultwright/faulttree"
	"faultwright/faulttree/circuit"
	"faultwright/faulttree/rig"
)

// impedance is the input of a voltmeter: 10 MΩ beside 100 pF, or 3 kΩ (common
// practice, no source).
func (in Input) impedance() circuit.MeterInput {
	if in == LowImpedance {
		return circuit.MeterInput{Ohms: 3e3}
	}
	return circuit.MeterInput{Ohms: 10e6, Farads: 100e-12}
}

// liveVolts is what an ohmmeter must not find between its probes: its own test
// voltage is a volt or so (common practice, no source).
const liveVolts = 1

// ohmsMost is the resistance beyond which an ohmmeter shows nothing at all.
const ohmsMost = 1e12

// MeasureIn is [Bench.Measure] in a chosen state.
func (b *Bench) MeasureIn(q faulttree.Quantity, st State, in Input) (Measured, error) {
	return b.Probing(q, st, in).Measure()
}

// Probing is a quantity in a state in which it is measured, looked up once for all
// vehicles that are put on a bench.
type Probing struct {
	b          *Bench
	unit       faulttree.Unit
	as         *standing
	red, black circuit.Node
	meter      circuit.MeterInput
	clamped    int // the part inside a clamp
	driven     [2]driven
	ohms       *ohmsAt
	reason     string // why nothing is measured; "" where something is
}

// driven is whether a source can drive a current through the meter, with some faults.
type driven struct {
	known, is bool
	faults    int
}

// Probing is for what [Bench.MeasureIn] measures.
func (b *Bench) Probing(q faulttree.Quantity, st State, in Input) *Probing {
	if q.Has(faulttree.LowZ) {
		in = LowImpedance
	}
	for _, point := range []string{q.Red, q.Black} {
		if point != "" && !b.HasNode(point) {
			return &Probing{reason: fmt.Sprintf("rig %s has no test point %s", b.rig.ID, point)}
		}
	}
	clamp := q.Unit == faulttree.AmpsAC || q.Unit == faulttree.AmpsDC
	if q.Red == "" || q.Black == "" && !clamp {
		return &Probing{reason: "this quantity is not measured on the vehicle"}
	}
	p := &Probing{b: b, unit: q.Unit, as: b.standing(st), meter: in.impedance()}
	if !clamp {
		p.red, p.black = b.empty.Node(q.Red), b.empty.Node(q.Black)
		if q.Unit == faulttree.Ohms {
			p.ohms = p.as.ohmsAt(p.red, p.black)
		}
	} else if p.clamped = b.conductorAt(q.Red); p.clamped == rig.None {
		p.reason = fmt.Sprintf("rig %s has no conductor to clamp at %s", b.rig.ID, q.Red)
	}
	return p
}

// Measure is what the probes see of the vehicle that is on the bench now.
func (p *Probing) Measure() (Measured, error) {
	switch {
	case p.reason != "":
		return Measured{Reason: p.reason}, nil
	case p.unit == faulttree.Ohms:
		return p.resistance()
	case p.unit == faulttree.AmpsAC, p.unit == faulttree.AmpsDC:
		return p.current()
	}
	w, k, err := p.b.settle(p.as, p.unit == faulttree.VoltsDC)
	if err != nil {
		return Measured{}, err
	}
	v, err := w.solver.Reads(p.red, p.black, p.meter)
	return Measured{Value: v, Defined: err == nil, Tripped: p.b.tripped(k)}, err
}

// live reports whether alternating, or direct current, can reach the probes at all: no
// circuit need be solved where none can.
func (p *Probing) live(direct bool) bool {
	at := &p.driven[0]
	if direct {
		at = &p.driven[1]
	}
	if faults := p.b.faultSet; !at.known || at.faults != faults {
		*at = driven{known: true, faults: faults, is: p.b.driven(p.as, direct, p.red, p.black)}
	}
	return at.is
}

// resistance is what an ohmmeter sees: all sources silent, at 0 Hz.
func (p *Probing) resistance() (Measured, error) {
	b := p.b
	for _, direct := range []bool{false, true} {
		if !p.live(direct) {
			continue
		}
		w, k, err := b.settle(p.as, direct)
		if err != nil {
			return Measured{}, err
		}
		meter := HighImpedance.impedance()
		if open, _ := w.solver.Voltage(p.red, p.black); abs(open)*meter.Raises(b.hertz(k)) < 0.99*liveVolts {
			continue
		}
		v, err := w.solver.Reads(p.red, p.black, meter)
		if err != nil {
			return Measured{}, err
		}
		if abs(v) > liveVolts {
			return Measured{Hazard: true, Tripped: b.tripped(k), Reason: fmt.Sprintf("there are %.3g V between the probes: ohms are measured on a dead circuit only", abs(v))}, nil
		}
	}
	ohms, ok, err := b.between(p.as, p.ohms)
	if err != nil {
		return Measured{}, err
	}
	if !ok || math.IsNaN(real(ohms)) || real(ohms) > ohmsMost {
		return Measured{Value: cmplx.Inf(), Reason: "there is no way for a current between the probes"}, nil
	}
	return Measured{Value: complex(max(0, real(ohms)), 0), Defined: true}, nil
}

// current is what a clamp around the conductor at a test point sees.
func (p *Probing) current() (Measured, error) {
	b := p.b
	w, k, err := b.settle(p.as, p.unit == faulttree.AmpsDC)
	if err != nil {
		return Measured{}, err
	}
	amps, ok := w.amps(p.clamped)
	if !ok {
		k.clamp = p.clamped
		if w, err = b.circuitFor(k); err != nil {
			return Measured{}, err
		}
		amps, ok = w.amps(p.clamped)
	}
	m := Measured{Value: amps, Defined: ok, Tripped: b.tripped(k)}
	if !ok {
		m.Reason = "the current divides among exact shorts"
	}
	return m, nil
}

// conductorAt is the part a clamp closes around at a test point: the one that
// comes from the supply, else the one that leaves.
func (b *Bench) conductorAt(point string) int {
	for _, fits := range []func(p *rig.Part) bool{
		func(p *rig.Part) bool { return p.B == point && carries(p) },
		func(p *rig.Part) bool { return p.A == point && carries(p) },
		func(p *rig.Part) bool { return p.A == point && (p.Kind == rig.Source || p.Kind == rig.Charger) },
	} {
		for i := range b.rig.Parts {
			if fits(&b.rig.Parts[i]) {
				return i
			}
		}
	}
	return rig.None
}

func carries(p *rig.Part) bool {
	return p.Kind == rig.Conductor || p.Kind == rig.Joint || p.Kind == rig.Breaker
}

// Netlist is the circuit of a quantity in plain SPICE, with faults and tripped
// devices applied and the meter as an element.
func (b *Bench) Netlist(title string, q faulttree.Quantity, st State, in Input) (string, error) {
	if q.Has(faulttree.LowZ) {
		in = LowImpedance
	}
	if q.Unit != faulttree.VoltsAC && q.Unit != faulttree.VoltsDC {
		return "", fmt.Errorf("%s is not a voltage: a netlist shows voltages", q.ID)
	}
	for _, point := range []string{q.Red, q.Black} {
		if !b.HasNode(point) {
			return "", fmt.Errorf("rig %s has no test point %s", b.rig.ID, point)
		}
	}
	w, k, err := b.solve(st, q.Unit == faulttree.VoltsDC)
	if err != nil {
		return "", err
	}
	fresh, err := b.compile(k) // its net carries the present numbers
	if err != nil {
		return "", err
	}
	net := fresh.net.Clone()
	meter := in.impedance()
	net.Resistor("meter", q.Red, q.Black, meter.Ohms)
	if meter.Farads > 0 && b.hertz(k) > 0 {
		net.Capacitor("meter-input", q.Red, q.Black, meter.Farads)
	}
	return circuit.Netlist(title, net, b.hertz(k), circuit.Print{A: w.net.Node(q.Red), B: w.net.Node(q.Black)})
}

// Input is the input of a voltmeter.
type Input uint8

const (
	HighImpedance Input = iota // 10 MΩ beside 100 pF
	LowImpedance               // 3 kΩ
)

// Measured is what the probes see.
type Measured struct {
	Value   complex128 // RMS with the meter connected, in V or A, angle zero at source L1 to N; direct values and Ω are real
	Defined bool
	Hazard  bool     // ohms on a live circuit
	Reason  string   // why there is no value, a sentence
	Tripped []string // protective devices that have opened
}

// Number is the value as a meter on a function of this unit takes it: the size
// of what alternates, direct values and ohms as they are, ohms without a way
// for the current infinite. ok is false where there is no value, or a live
// circuit under ohms.
func (m Measured) Number(u faulttree.Unit) (value float64, ok bool) {
	open := u == faulttree.Ohms && cmplx.IsInf(m.Value)
	switch {
	case m.Hazard, !m.Defined && !open:
		return 0, false
	case u.Signed() || u == faulttree.Ohms:
		return real(m.Value), true
	}
	return cmplx.Abs(m.Value), true
}

// State is what is plugged, switched and turned on while something is measured.
type State struct {
	Off   map[string]bool // switches by name: true is off, false is on; the others are in their ordinary position
	Loads map[string]bool // legs whose loads are on; nil means none
	// Tripped is the protective devices, by name, that stay open whatever flows now, since
	// they opened before and nobody has reset them. What the currents of the state open by
	// themselves need not be among them.
	Tripped map[string]bool
}

// StateFor says in which state a quantity is read, by the rules of the rig (see
// [faultwright/faulttree/rig.StateRule]): what is measured at the pedestal is
// measured with nothing plugged in, what is measured on pulled pins with the
// plug out. A switch that no rule speaks of is in its ordinary position. Loads
// are on where the quantity asks for loads, and connected where a rule says so;
// legs are those whose loads go on.
func (b *Bench) StateFor(q faulttree.Quantity, legs []string) State {
	st := State{Off: map[string]bool{}}
	loads := q.Has(faulttree.Loaded)
	for _, rule := range b.rig.States {
		if !rule.Fits(q) {
			continue
		}
		for _, s := range rule.Off {
			st.Off[s] = true
		}
		for _, s := range rule.On {
			st.Off[s] = false
		}
		loads = loads || rule.Loads
	}
	if loads {
		st.Loads = map[string]bool{}
		for _, leg := range legs {
			st.Loads[leg] = true
		}
	}
	return st
}
