package meter

import (
	"math/cmplx"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// Apply puts the meter faults among some faults into force. Others are the
// circuit's.
func (m *Multimeter) Apply(faults []rig.Applied) {
	for _, a := range faults {
		if a.Variant < 0 || a.Variant >= len(a.Fault.Variants) {
			continue
		}
		for _, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind == rig.Misuse {
				m.mistake(e.Mistake, a)
			}
		}
	}
}

// lowestRange is what a range left too low stands on: it shows neither a
// supply nor a battery.
const lowestRange = 6 * faulttree.One

// mistake makes one. A hold whose fault has a severity in volts froze at that
// many; otherwise the first reading stays. A range whose fault has one is set
// to that many.
func (m *Multimeter) mistake(what rig.Mistake, a rig.Applied) {
	volts := a.Fault.Severity != nil && a.Fault.Severity.Unit == rig.Volts
	switch what {
	case rig.HoldLeftOn:
		m.Setting.Hold = true
		if volts {
			m.Freeze(m.face.Shown(a.Severity, faulttree.VoltsAC, 0))
		}
	case rig.RangeTooLow:
		m.Setting.Range = lowestRange
		if volts {
			m.Setting.Range = faulttree.Amount(a.Severity * float64(faulttree.One))
		}
	case rig.WrongFunction:
		m.WrongFunction = true
	case rig.AmpereJack:
		m.Setting.Jack = AmpereJack
	case rig.GhostReading:
		m.NoLowZ = true
	case rig.WeakBattery:
		m.LowBattery = true
	case rig.BrokenLead:
		m.LeadBroken = true
	}
}

// acDcExchanged is the function a dial stands on by mistake.
func (f Function) acDcExchanged() Function {
	switch f {
	case VoltsAC, LowZ:
		return VoltsDC
	case VoltsDC:
		return VoltsAC
	case AmpsAC:
		return AmpsDC
	case AmpsDC:
		return AmpsAC
	}
	return f
}

// The ampere jack: a shunt behind a fuse. Common practice, no source.
const (
	shuntOhms   = 0.05
	fuseAmperes = 10
)

// What the inputs of package rig are, for the circuit behind the probes to be
// worked out from two readings.
const (
	highOhms = 10e6
	lowOhms  = 3000
)

// shortedText says what happens between a source and the ampere jack.
const shortedText = "The red lead is in the ampere jack: the meter is a short between the probes. A flash, a blown fuse, perhaps an opened breaker."

// throughAmpereJack is a reading with the red lead in the ampere jack. What
// lies behind the probes follows from the two inputs: volts without a meter,
// and the impedance that the low input pulls them down through.
func (m *Multimeter) throughAmpereJack(c Circuit, q faulttree.Quantity, f Function) (Shown, error) {
	if m.FuseBlown || m.LeadBroken {
		return m.openInput(q, f), nil
	}
	if q.OfMeter() {
		c = m.tried(q)
	}
	live := false
	for _, u := range []faulttree.Unit{faulttree.VoltsAC, faulttree.VoltsDC} {
		asked := q
		asked.Unit = u
		high, err := c.Measure(asked, bench.HighImpedance)
		if err != nil {
			return Shown{}, err
		}
		low, err := c.Measure(asked, bench.LowImpedance)
		if err != nil {
			return Shown{}, err
		}
		if high.Defined && low.Defined && fuseAmperes < shortCurrent(high.Value, low.Value) {
			live = true
		}
	}
	if !live {
		return m.openInput(q, f), nil
	}
	m.FuseBlown = true
	return Shown{Hazard: shortedText, Reading: faulttree.NotTaken(shortedText)}, nil
}

// shortCurrent is what flows through the shunt, in amperes. With u1 on the
// high input and u2 on the low one, the source has z = (u1-u2)/(u2/low-u1/high)
// behind it. What is not live enough to tell is 0.
func shortCurrent(high, low complex128) float64 {
	if cmplx.Abs(high) < 0.5 || cmplx.Abs(low) < 0.5 {
		return 0
	}
	z := (high - low) / (low/lowOhms - high/highOhms)
	open := high * (1 + z/highOhms)
	return cmplx.Abs(open) / cmplx.Abs(z+shuntOhms)
}

// openInput is the display of a function whose jack has no lead in it.
func (m *Multimeter) openInput(q faulttree.Quantity, f Function) Shown {
	seen := bench.Measured{Defined: true}
	if f.Unit() == faulttree.Ohms {
		seen.Value = cmplx.Inf()
	}
	return m.show(seen, q, f)
}
