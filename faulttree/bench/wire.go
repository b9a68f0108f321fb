package bench

import (
	"fmt"
	"math"
	"math/cmplx"
	"slices"

	"faultwright/faulttree/circuit"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// compiled is a compiled circuit and how to put other numbers into it.
type compiled struct {
	net    *circuit.Net
	solver *circuit.Solver
	parts  []int          // part -> element, or -1 where it does not conduct
	a, z   []circuit.Node // ends of the parts, after exchanges
	stamps []stamp
	pairs  [2]*circuit.Pair // the probes of an ohmmeter; nil before the first
	direct bool
	age    uint64
}

// stamp puts one number into an element of the circuit.
type stamp struct {
	element int
	value   func(*Bench) float64
	phasor  func(*Bench) complex128
}

func abs(c complex128) float64 { return cmplx.Abs(c) }

// amps is the current through a part; it is not known for an exact short.
func (w *compiled) amps(part int) (complex128, bool) {
	if w.parts[part] < 0 {
		return 0, true
	}
	return w.solver.CurrentAt(w.parts[part])
}

// stamp puts the present numbers in force and solves.
func (w *compiled) stamp(b *Bench) error {
	for _, s := range w.stamps {
		if s.value != nil {
			if err := w.solver.SetValueAt(s.element, s.value(b)); err != nil {
				return err
			}
		}
		if s.phasor != nil {
			if err := w.solver.SetPhasorAt(s.element, s.phasor(b)); err != nil {
				return err
			}
		}
	}
	if !w.direct {
		if err := w.solver.SetHertz(b.values[b.rig.Hertz]); err != nil {
			return err
		}
	}
	return w.solver.Factor()
}

// builder gathers the elements of a circuit.
type builder struct {
	b      *Bench
	k      key
	net    *circuit.Net
	parts  []int
	stamps []stamp
	add    map[int][]func(*Bench) float64 // part -> ohms more in series
	a, z   []circuit.Node                 // ends of the parts, after swaps
	open   map[int]bool
	phasor map[int]func(*Bench) complex128
	room   *circuit.Room
}

// build begins the circuit of a key: its joins by faults, and which parts conduct.
func (b *Bench) build(k key) *builder {
	parts := len(b.rig.Parts)
	room := b.roomForOne()
	ends := room.nodes.Take(2 * parts)
	w := &builder{b: b, k: k, net: b.empty.Bare(), add: map[int][]func(*Bench) float64{}, open: map[int]bool{}, phasor: map[int]func(*Bench) complex128{},
		a: ends[:parts], z: ends[parts:], parts: room.parts.Take(parts), stamps: room.stamps.Take(b.most)[:0], room: &room.circuits}
	for i, of := range b.wires {
		w.a[i], w.z[i], w.parts[i] = of.a, of.z, -1
	}
	for i, v := range b.rig.Varieties {
		if k.varies&(1<<i) == 0 {
			continue
		}
		for _, name := range v.Open {
			for _, at := range b.rig.Named(name) {
				w.open[at] = true
			}
		}
	}
	for n := range b.setup.Faults {
		w.fault(n)
	}
	return w
}

// compile builds and compiles the circuit of a key.
func (b *Bench) compile(k key) (*compiled, error) {
	w := b.build(k)
	w.net.Grow(w.room, b.most)
	chargers := 0
	for i := range b.rig.Parts {
		p := &b.rig.Parts[i]
		mode := uint64(idling)
		if p.Kind == rig.Charger {
			mode = k.charge >> (2 * chargers) & 3
			chargers++
		}
		if w.conducts(i, p) {
			w.part(i, p, mode)
		}
	}
	solver, err := b.plans.Compile(w.net, b.hertz(k), w.room)
	if err != nil {
		return nil, fmt.Errorf("rig %s: %w", b.rig.ID, err)
	}
	return &compiled{net: w.net, solver: solver, parts: w.parts, a: w.a, z: w.z, stamps: w.stamps, direct: k.direct}, nil
}

// fault puts one fault in force.
func (w *builder) fault(n int) {
	r := w.b.rig
	applied := w.b.setup.Faults[n]
	for j, e := range applied.Fault.Variants[applied.Variant].Edits {
		severity := func(a rig.EditValue) func(*Bench) float64 {
			return func(b *Bench) float64 { return a.Of(b.setup.Faults[n].Severity) }
		}
		at := lists.Each(e.Parts, func(name string) int { return partAt(r, name) })
		switch e.Kind {
		case rig.Open:
			for _, i := range at {
				w.open[i] = true
			}
		case rig.Resist:
			for _, i := range at {
				w.add[i] = append(w.add[i], severity(e.Ohms))
			}
		case rig.Connect:
			if w.isOn(e.Switch) && w.legOn(e.Leg) {
				w.resistor(rig.None, joinName(n, j), w.net.Node(e.Nodes[0]), w.net.Node(e.Nodes[1]), severity(e.Ohms))
			}
		case rig.Swap:
			if len(at) == 2 {
				w.z[at[0]], w.z[at[1]] = w.z[at[1]], w.z[at[0]]
			}
		case rig.Replace:
			volts, degrees := severity(e.Volts), severity(e.Degrees)
			for _, i := range at {
				w.phasor[i] = func(b *Bench) complex128 { return cmplx.Rect(volts(b), degrees(b)*math.Pi/180) }
			}
		}
	}
}

// joinName is the name of the element by which an edit of a fault joins two nodes.
func joinName(fault, edit int) string { return fmt.Sprintf("fault-%d-%d", fault+1, edit+1) }

// partAt is the index of the part of this name, or [rig.None].
func partAt(r *rig.Rig, name string) int {
	for i := range r.Parts {
		if r.Parts[i].Name == name {
			return i
		}
	}
	return rig.None
}

// isOn reports whether a switch is on; no switch is on.
func (w *builder) isOn(name string) bool {
	for i, s := range w.b.rig.Switches {
		if s.Name == name {
			return w.k.off&(1<<i) == 0
		}
	}
	return true
}

func (w *builder) legOn(leg string) bool {
	i := slices.Index(w.b.legs, leg)
	return i < 0 || w.k.loads&(1<<i) != 0
}

func (w *builder) conducts(i int, p *rig.Part) bool {
	if w.open[i] || !w.isOn(p.Switch) {
		return false
	}
	if p.Kind == rig.Load && !p.Always && !w.legOn(p.Leg) {
		return false
	}
	if p.Kind == rig.Breaker {
		return w.k.tripped&(1<<w.b.device(p.Run)) == 0
	}
	return true
}

// element notes the element that was added last as the one of a part.
func (w *builder) element(part int, s stamp) {
	s.element = len(w.net.Elements()) - 1
	if part != rig.None {
		w.parts[part] = s.element
	}
	w.stamps = append(w.stamps, s)
}

// resistor adds one that is a part, or none.
func (w *builder) resistor(part int, name string, a, z circuit.Node, ohms func(*Bench) float64) {
	w.net.Add(circuit.Element{Name: name, Kind: circuit.Resistor, A: a, B: z, Value: ohms(w.b)})
	w.element(part, stamp{value: ohms})
}

// inductor adds one that is a part, or none.
func (w *builder) inductor(part int, name string, a, z circuit.Node, henries func(*Bench) float64) {
	w.net.Add(circuit.Element{Name: name, Kind: circuit.Inductor, A: a, B: z, Value: henries(w.b)})
	w.element(part, stamp{value: henries})
}

// voltage adds a source that is a part: some volts behind some ohms.
func (w *builder) voltage(part int, a, z circuit.Node, volts func(*Bench) complex128, ohms func(*Bench) float64) {
	w.net.Add(circuit.Element{Name: w.b.rig.Parts[part].Name, Kind: circuit.VoltageSource, A: a, B: z, Phasor: volts(w.b), Value: ohms(w.b)})
	w.element(part, stamp{value: ohms, phasor: volts})
}

// part adds the elements of a part that conducts.
func (w *builder) part(i int, p *rig.Part, mode uint64) {
	a, z, of := w.a[i], w.z[i], &w.b.wires[i]
	switch p.Kind {
	case rig.Conductor, rig.Joint, rig.Resistance, rig.Breaker:
		ohms := w.with(i, of.ohms)
		if w.k.clamp == i && ohms(w.b) == 0 {
			w.net.Add(circuit.Element{Name: p.Name, Kind: circuit.VoltageSource, A: a, B: z})
			w.element(i, stamp{})
			return
		}
		w.resistor(i, p.Name, a, z, ohms)
	case rig.Capacitance:
		if farads := of.farads(w.b); farads > 0 {
			w.net.Add(circuit.Element{Name: p.Name, Kind: circuit.Capacitor, A: a, B: z, Value: farads})
			w.element(i, stamp{value: of.farads})
		}
	case rig.Inductance:
		w.inductor(i, p.Name, a, z, of.henries)
	case rig.Load:
		w.load(i, p)
	case rig.Source:
		w.source(i, p)
	case rig.Charger:
		w.charger(i, p, mode)
	}
}

// with is the ohms of a part with what faults add.
func (w *builder) with(i int, plain func(*Bench) float64) func(*Bench) float64 {
	more := w.add[i]
	if len(more) == 0 {
		return plain
	}
	return func(b *Bench) float64 {
		sum := plain(b)
		for _, m := range more {
			sum += m(b)
		}
		return sum
	}
}

// load adds a load: a resistance, with an inductance in series if its power factor asks
// for it.
func (w *builder) load(i int, p *rig.Part) {
	if w.b.number(p, rig.AttrWatts, 0) == 0 {
		return
	}
	of := &w.b.wires[i]
	ohms := of.load
	if len(w.add[i]) > 0 {
		more := w.with(i, of.ohms)
		ohms = func(b *Bench) float64 { r, _ := b.impedance(p); return r + more(b) }
	}
	if w.b.number(p, rig.AttrPowerFactor, 1) >= 1 || w.k.direct {
		w.resistor(i, p.Name, w.a[i], w.z[i], ohms)
		return
	}
	w.resistor(i, p.Name, w.a[i], of.inner, ohms)
	w.inductor(rig.None, p.Name+".winding", of.inner, w.z[i], of.winding)
}

// source adds a supply; at another frequency, or while ohms are measured, it is
// no more than its resistance.
func (w *builder) source(i int, p *rig.Part) {
	of := &w.b.wires[i]
	phasor := w.phasor[i]
	if phasor == nil {
		phasor = of.volts
	}
	if p.Direct != w.k.direct || w.k.probe {
		phasor = silent
	}
	inner := w.z[i]
	if p.Params[rig.AttrHenries] != rig.None && !w.k.direct {
		inner = of.inner
		w.inductor(rig.None, p.Name+".reactance", inner, w.z[i], of.henries)
	}
	w.voltage(i, w.a[i], inner, phasor, w.with(i, of.ohms))
}

// silent is what a source gives of which nothing is wanted.
func silent(*Bench) complex128 { return 0 }

func (w *builder) charger(i int, p *rig.Part, mode uint64) {
	if !w.k.direct || w.k.probe {
		return
	}
	of := &w.b.wires[i]
	switch mode {
	case holding:
		w.voltage(i, w.a[i], w.z[i], of.volts, w.with(i, of.ohms))
	case limiting:
		w.net.Add(circuit.Element{Name: p.Name, Kind: circuit.CurrentSource, A: w.a[i], B: w.z[i], Phasor: of.amps(w.b)})
		w.element(i, stamp{phasor: of.amps})
	}
}
