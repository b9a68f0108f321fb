package bench

import (
	"math"

	"faultwright/faulttree"
	"faultwright/faulttree/circuit"
	"faultwright/faulttree/rig"
)

// Flow is a solved state with a meter in it: every way for a current, and what
// flows there.
type Flow struct {
	Branches []Branch
	Tripped  []string // protective devices that have opened
	solver   *circuit.Solver
	net      *circuit.Net
}

// Branch is one way for a current: a part that conducts, a join that a fault has
// made, or the meter.
type Branch struct {
	Part        int // index in the rig, or [rig.None]
	Fault, Edit int // of a join: the fault in the setup, and its edit; -1 otherwise
	Meter       bool
	A, B        string     // nodes, after exchanges
	Amps        complex128 // from A to B
	Known       bool       // false where the current divides among exact shorts
	Drop        complex128 // volts from A to B
}

// testVolts and testOhms are the source of an ohmmeter and the resistance in series
// with it (common practice, no source). Only shares of its current are used.
const (
	testVolts = 1
	testOhms  = 1e3
)

// Flow is the state in which q is read, with the meter between the probes: its
// input for volts; for ohms its own source, while all others give nothing. A clamp
// is no part of the circuit. Ends that the rig does not have are an error.
func (b *Bench) Flow(q faulttree.Quantity, st State, in Input) (*Flow, error) {
	ohms := q.Unit == faulttree.Ohms
	k := b.state(b.standing(st), true)
	k.probe = ohms
	if !ohms {
		var err error
		if _, k, err = b.solve(st, q.Unit == faulttree.VoltsDC || q.Unit == faulttree.AmpsDC); err != nil {
			return nil, err
		}
	}
	w, err := b.compile(k)
	if err != nil {
		return nil, err
	}
	net := w.net.Clone()
	meter := q.Red != "" && q.Black != ""
	switch input := in.impedance(); {
	case !meter:
	case ohms:
		net.Voltage("meter", q.Red, q.Black, testVolts, testOhms)
	default:
		net.Resistor("meter", q.Red, q.Black, input.Ohms)
		if input.Farads > 0 && b.hertz(k) > 0 {
			net.Capacitor("meter-input", q.Red, q.Black, input.Farads)
		}
	}
	f := &Flow{Tripped: b.tripped(k), net: net}
	if f.solver, err = circuit.Compile(net, b.hertz(k)); err != nil {
		return nil, err
	}
	for i := range b.rig.Parts {
		if w.parts[i] >= 0 {
			f.add(Branch{Part: i, Fault: -1, Edit: -1, A: net.Name(w.a[i]), B: net.Name(w.z[i])}, b.rig.Parts[i].Name)
		}
	}
	for n, a := range b.setup.Faults {
		for j, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind == rig.Connect {
				f.add(Branch{Part: rig.None, Fault: n, Edit: j, A: e.Nodes[0], B: e.Nodes[1]}, joinName(n, j))
			}
		}
	}
	if meter {
		f.add(Branch{Part: rig.None, Fault: -1, Edit: -1, Meter: true, A: q.Red, B: q.Black}, "meter", "meter-input")
	}
	f.shorts()
	return f, nil
}

// add appends a branch made of parallel elements, where there is one of them.
func (f *Flow) add(br Branch, elements ...string) {
	there := false
	br.Known = true
	for _, name := range elements {
		at, ok := f.solver.Index(name)
		if !ok {
			continue
		}
		there = true
		amps, known := f.solver.CurrentAt(at)
		br.Amps += amps
		br.Known = br.Known && known
	}
	if there {
		br.Drop, _ = f.Volts(br.A, br.B)
		f.Branches = append(f.Branches, br)
	}
}

// Volts is the voltage from one node to another; ok is false where nothing ties
// them together.
func (f *Flow) Volts(a, b string) (volts complex128, ok bool) {
	return f.solver.Voltage(f.net.Node(a), f.net.Node(b))
}

// shorts finds the currents of exact shorts: where all others at a node are known,
// the currents at the node sum to zero. Shorts that form a loop stay unknown.
func (f *Flow) shorts() {
	for again := true; again; {
		again = false
		unknown, out := map[string]int{}, map[string]complex128{}
		for _, br := range f.Branches {
			if br.Known {
				out[br.A] += br.Amps
				out[br.B] -= br.Amps
			} else {
				unknown[br.A]++
				unknown[br.B]++
			}
		}
		for i := range f.Branches {
			switch br := &f.Branches[i]; {
			case br.Known:
			case unknown[br.A] == 1:
				br.Amps, br.Known, again = -out[br.A], true, true
			case unknown[br.B] == 1:
				br.Amps, br.Known, again = out[br.B], true, true
			}
			if again {
				break // the sums at its other end have changed
			}
		}
	}
}

// Unbalanced is by how much the currents at a node do not sum to zero, in
// amperes, and NaN where one of them is not known.
func (f *Flow) Unbalanced(node string) float64 {
	sum := complex128(0)
	for _, br := range f.Branches {
		if br.A != node && br.B != node {
			continue
		}
		if !br.Known {
			return math.NaN()
		}
		if br.A == node {
			sum += br.Amps
		}
		if br.B == node {
			sum -= br.Amps
		}
	}
	return abs(sum)
}
