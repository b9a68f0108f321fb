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
	parts  []int    // part -> element, or -1 where it does not conduct
	a, z   []string // ends of the parts, after exchanges
	stamps []stamp
	pair   *circuit.Pair // the probes of an ohmmeter; nil before the first
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
	a, z   []string                       // ends of the parts, after swaps
	open   map[int]bool
	phasor map[int]func(*Bench) complex128
}

// build begins the circuit of a key: its joins by faults, and which parts conduct.
func (b *Bench) build(k key) *builder {
	parts := len(b.rig.Parts)
	w := &builder{b: b, k: k, net: b.empty.Clone(), add: map[int][]func(*Bench) float64{}, open: map[int]bool{}, phasor: map[int]func(*Bench) complex128{},
		a: make([]string, 0, parts), z: make([]string, 0, parts), parts: make([]int, 0, parts), stamps: make([]stamp, 0, parts)}
	w.net.Grow(parts)
	for i := range b.rig.Parts {
		w.a, w.z, w.parts = append(w.a, b.rig.Parts[i].A), append(w.z, b.rig.Parts[i].B), append(w.parts, -1)
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
	solver, err := b.plans.Compile(w.net, b.hertz(k))
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
				w.resistor(joinName(n, j), e.Nodes[0], e.Nodes[1], severity(e.Ohms))
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

func (w *builder) resistor(name, a, z string, ohms func(*Bench) float64) {
	w.net.Resistor(name, a, z, ohms(w.b))
	w.element(rig.None, stamp{value: ohms})
}

// part adds the elements of a part that conducts.
func (w *builder) part(i int, p *rig.Part, mode uint64) {
	a, z := w.a[i], w.z[i]
	ohms := w.ohms(i, p)
	switch p.Kind {
	case rig.Conductor, rig.Joint, rig.Resistance, rig.Breaker:
		if v := ohms(w.b); v == 0 && w.k.clamp == i {
			w.net.Voltage(p.Name, a, z, 0, 0)
			w.element(i, stamp{})
			return
		}
		w.net.Resistor(p.Name, a, z, ohms(w.b))
		w.element(i, stamp{value: ohms})
	case rig.Capacitance:
		farads := func(b *Bench) float64 { return b.farads(p) }
		if farads(w.b) > 0 {
			w.net.Capacitor(p.Name, a, z, farads(w.b))
			w.element(i, stamp{value: farads})
		}
	case rig.Inductance:
		henries := func(b *Bench) float64 { return b.number(p, rig.AttrHenries, 0) }
		w.net.Inductor(p.Name, a, z, henries(w.b))
		w.element(i, stamp{value: henries})
	case rig.Load:
		w.load(i, p, a, z, ohms)
	case rig.Source:
		w.source(i, p, a, z, ohms)
	case rig.Charger:
		w.charger(i, p, a, z, mode, ohms)
	}
}

// ohms is the resistance of a part with what faults add.
func (w *builder) ohms(i int, p *rig.Part) func(*Bench) float64 {
	more := w.add[i]
	return func(b *Bench) float64 {
		sum := b.resistance(p)
		for _, m := range more {
			sum += m(b)
		}
		return sum
	}
}

// resistance of a part without faults, in ohms.
func (b *Bench) resistance(p *rig.Part) float64 {
	if p.Kind == rig.Conductor && p.Params[rig.AttrOhms] == rig.None {
		if gauge := b.number(p, rig.AttrGauge, 0); gauge != b.gauge || b.metres == 0 {
			b.gauge, b.metres = gauge, circuit.GaugeMetres(gauge)
		}
		return circuit.Copper().Ohms(b.number(p, rig.AttrLength, 0), b.metres, b.values[b.rig.Celsius])
	}
	return b.number(p, rig.AttrOhms, 0)
}

// farads of a capacitance: half of what a run of this length has, at each end.
func (b *Bench) farads(p *rig.Part) float64 {
	if p.Params[rig.AttrPerMetre] != rig.None {
		return b.number(p, rig.AttrPerMetre, 0) * b.number(p, rig.AttrLength, 0) / 2
	}
	return b.number(p, rig.AttrFarads, 0)
}

// load adds a load: a resistance, with an inductance in series if its power
// factor asks for it: |Z| = U² pf / P, R = |Z| pf, X = |Z| √(1 - pf²).
func (w *builder) load(i int, p *rig.Part, a, z string, more func(*Bench) float64) {
	impedance := func(b *Bench) (ohms, henries float64) {
		volts, pf := b.number(p, rig.AttrAtVolts, 120), b.number(p, rig.AttrPowerFactor, 1)
		size := volts * volts * pf / b.number(p, rig.AttrWatts, 0)
		nominal := 2 * math.Pi * b.rig.Params[b.rig.Hertz].Value
		return size * pf, size * math.Sqrt(max(0, 1-pf*pf)) / nominal
	}
	if w.b.number(p, rig.AttrWatts, 0) == 0 {
		return
	}
	resistance := func(b *Bench) float64 { r, _ := impedance(b); return r + more(b) }
	inductance := func(b *Bench) float64 { _, l := impedance(b); return l }
	if w.b.number(p, rig.AttrPowerFactor, 1) >= 1 || w.k.direct {
		w.net.Resistor(p.Name, a, z, resistance(w.b))
		w.element(i, stamp{value: resistance})
		return
	}
	inner := p.Name + ".inner"
	w.net.Resistor(p.Name, a, inner, resistance(w.b))
	w.element(i, stamp{value: resistance})
	w.net.Inductor(p.Name+".winding", inner, z, inductance(w.b))
	w.element(rig.None, stamp{value: inductance})
}

// source adds a supply; at another frequency, or while ohms are measured, it is
// no more than its resistance.
func (w *builder) source(i int, p *rig.Part, a, z string, ohms func(*Bench) float64) {
	phasor := w.phasor[i]
	if phasor == nil {
		phasor = func(b *Bench) complex128 {
			volts := b.number(p, rig.AttrVolts, 0)
			if p.Direct {
				return complex(volts, 0)
			}
			return cmplx.Rect(volts, b.number(p, rig.AttrDegrees, 0)*math.Pi/180)
		}
	}
	if p.Direct != w.k.direct || w.k.probe {
		phasor = func(*Bench) complex128 { return 0 }
	}
	inner := z
	if p.Params[rig.AttrHenries] != rig.None && !w.k.direct {
		inner = p.Name + ".inner"
		henries := func(b *Bench) float64 { return b.number(p, rig.AttrHenries, 0) }
		w.net.Inductor(p.Name+".reactance", inner, z, henries(w.b))
		w.element(rig.None, stamp{value: henries})
	}
	w.net.Voltage(p.Name, a, inner, phasor(w.b), ohms(w.b))
	w.element(i, stamp{value: ohms, phasor: phasor})
}

func (w *builder) charger(i int, p *rig.Part, a, z string, mode uint64, ohms func(*Bench) float64) {
	if !w.k.direct || w.k.probe {
		return
	}
	switch mode {
	case holding:
		volts := func(b *Bench) complex128 { return complex(b.number(p, rig.AttrVolts, 0), 0) }
		w.net.Voltage(p.Name, a, z, volts(w.b), ohms(w.b))
		w.element(i, stamp{value: ohms, phasor: volts})
	case limiting:
		amps := func(b *Bench) complex128 { return complex(-b.number(p, rig.AttrLimit, 0), 0) }
		w.net.Current(p.Name, a, z, amps(w.b))
		w.element(i, stamp{phasor: amps})
	}
}
