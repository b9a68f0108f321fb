package bench

import (
	"math"
	"math/cmplx"

	"faultwright/faulttree/circuit"
	"faultwright/faulttree/rig"
)

// wire is a part as all circuits of a rig have it: where it is tied, and the numbers that
// its kind has, of the vehicle that is on a bench.
type wire struct {
	a, z    circuit.Node
	inner   circuit.Node // of a load, or a source, between its resistance and its reactance
	ohms    func(*Bench) float64
	farads  func(*Bench) float64
	henries func(*Bench) float64
	load    func(*Bench) float64 // ohms of a load
	winding func(*Bench) float64 // henries of a load
	volts   func(*Bench) complex128
	amps    func(*Bench) complex128 // of a charger that limits its current
}

// newWire notes a part; net gets its nodes.
func newWire(p *rig.Part, net *circuit.Net) wire {
	w := wire{a: net.Node(p.A), z: net.Node(p.B)}
	switch p.Kind {
	case rig.Capacitance:
		w.farads = func(b *Bench) float64 { return b.farads(p) }
		return w
	case rig.Load:
		w.load = func(b *Bench) float64 { r, _ := b.impedance(p); return r + b.resistance(p) }
		w.winding = func(b *Bench) float64 { _, l := b.impedance(p); return l }
		w.inner = net.Node(p.Name + ".inner")
	case rig.Source:
		w.inner = net.Node(p.Name + ".inner")
		w.volts = func(b *Bench) complex128 {
			return cmplx.Rect(b.number(p, rig.AttrVolts, 0), b.number(p, rig.AttrDegrees, 0)*math.Pi/180)
		}
	case rig.Charger:
		w.amps = func(b *Bench) complex128 { return complex(-b.number(p, rig.AttrLimit, 0), 0) }
	}
	if p.Kind == rig.Charger || p.Direct {
		w.volts = func(b *Bench) complex128 { return complex(b.number(p, rig.AttrVolts, 0), 0) }
	}
	if p.Kind == rig.Source || p.Kind == rig.Inductance {
		w.henries = func(b *Bench) float64 { return b.number(p, rig.AttrHenries, 0) }
	}
	w.ohms = func(b *Bench) float64 { return b.resistance(p) }
	return w
}

// resistance of a part without faults, in ohms.
func (b *Bench) resistance(p *rig.Part) float64 {
	if p.Kind == rig.Conductor && p.Params[rig.AttrOhms] == rig.None {
		return circuit.Copper().Ohms(b.number(p, rig.AttrLength, 0), b.metres(b.number(p, rig.AttrGauge, 0)), b.values[b.rig.Celsius])
	}
	return b.number(p, rig.AttrOhms, 0)
}

// metres is the diameter of a wire.
func (b *Bench) metres(of float64) float64 {
	for _, g := range b.gauges {
		if g.gauge == of && g.metres > 0 {
			return g.metres
		}
	}
	copy(b.gauges[1:], b.gauges[:])
	b.gauges[0] = gauge{of, circuit.GaugeMetres(of)}
	return b.gauges[0].metres
}

// farads of a capacitance: half of what a run of this length has, at each end.
func (b *Bench) farads(p *rig.Part) float64 {
	if p.Params[rig.AttrPerMetre] != rig.None {
		return b.number(p, rig.AttrPerMetre, 0) * b.number(p, rig.AttrLength, 0) / 2
	}
	return b.number(p, rig.AttrFarads, 0)
}

// impedance of a load: |Z| = U² pf / P, R = |Z| pf, X = |Z| √(1 - pf²).
func (b *Bench) impedance(p *rig.Part) (ohms, henries float64) {
	volts, pf := b.number(p, rig.AttrAtVolts, 120), b.number(p, rig.AttrPowerFactor, 1)
	size := volts * volts * pf / b.number(p, rig.AttrWatts, 0)
	nominal := 2 * math.Pi * b.rig.Params[b.rig.Hertz].Value
	return size * pf, size * math.Sqrt(max(0, 1-pf*pf)) / nominal
}
