package meter

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Function is where the dial stands.
type Function uint8

const (
	AsAsked    Function = iota // whatever the quantity asks for
	VoltsAC                    // V~
	VoltsDC                    // V⎓
	Ohms                       // Ω
	Continuity                 // Ω on the lowest range, with a beeper
	AmpsAC                     // clamp, A~
	AmpsDC                     // clamp, A⎓
	LowZ                       // V~ through an input of some kilohms
)

// Functions lists the places of the dial.
func Functions() []Function {
	return []Function{VoltsAC, VoltsDC, Ohms, Continuity, AmpsAC, AmpsDC, LowZ}
}

// String is the sign beside the dial.
func (f Function) String() string {
	return [...]string{"as asked", "V~", "V⎓", "Ω", "continuity", "A~ clamp", "A⎓ clamp", "low-impedance V~"}[f]
}

// Unit is what the function measures in.
func (f Function) Unit() faulttree.Unit {
	return [...]faulttree.Unit{0, faulttree.VoltsAC, faulttree.VoltsDC, faulttree.Ohms, faulttree.Ohms,
		faulttree.AmpsAC, faulttree.AmpsDC, faulttree.VoltsAC}[f]
}

// For is the function that a quantity asks for.
func For(q faulttree.Quantity) Function {
	switch q.Unit {
	case faulttree.VoltsDC:
		return VoltsDC
	case faulttree.Ohms:
		return Ohms
	case faulttree.AmpsAC:
		return AmpsAC
	case faulttree.AmpsDC:
		return AmpsDC
	}
	if q.Has(faulttree.LowZ) {
		return LowZ
	}
	return VoltsAC
}

// Jack is where the red lead is.
type Jack uint8

const (
	VoltJack   Jack = iota // V Ω
	AmpereJack             // A: a short between the probes
)

// Setting is how a meter is set. The zero value is a meter set as it should
// be, with automatic range.
type Setting struct {
	Function Function
	Range    faulttree.Amount // the first range that reaches this; 0 is automatic
	Hold     bool
	Jack     Jack
}

// Shown is what a person sees.
type Shown struct {
	Text    string // the digits, "119.9", "OL"; "" where there is no number
	Unit    string // beside the digits, "V", "kΩ"
	Beeps   bool   // the continuity beeper sounds
	Hazard  string // what happened instead, a sentence; "" is the rule
	Reading faulttree.Reading
	Seen    rig.Measured // what the probes met, before the display
}

// Circuit is what the probes are put on, such as a vehicle as it stands.
type Circuit interface {
	Measure(q faulttree.Quantity, in rig.Input) (rig.Measured, error)
}

// meterSource is what the probes touch where the meter alone is tried.
func meterSource(q faulttree.Quantity) Circuit {
	switch q.ID {
	case faulttree.MeterLeads:
		return tips(0.2)
	case faulttree.MeterTips:
		return tips(math.Inf(1))
	case faulttree.MeterBattery:
		return chargedBattery{}
	}
	return liveOutlet{}
}

// tips is the ohms between the two tips. Those of two good leads, 0.2 Ω held
// together, are common practice, no source.
type tips float64

// Measure reads the leads.
func (t tips) Measure(q faulttree.Quantity, _ rig.Input) (rig.Measured, error) {
	if q.Unit == faulttree.Ohms {
		return rig.Measured{Value: complex(float64(t), 0), Defined: true}, nil
	}
	return rig.Measured{Defined: true}, nil
}

// chargedBattery is a battery known to be charged: 12.6 V, common practice.
type chargedBattery struct{}

// Measure puts the probes on.
func (chargedBattery) Measure(q faulttree.Quantity, _ rig.Input) (rig.Measured, error) {
	switch q.Unit {
	case faulttree.VoltsDC:
		return rig.Measured{Value: 12.6, Defined: true}, nil
	case faulttree.Ohms:
		return rig.Measured{Hazard: true, Reason: "the battery has voltage: ohms are measured on a dead circuit only"}, nil
	}
	return rig.Measured{Defined: true}, nil
}

// liveOutlet is an outlet elsewhere, known to be live.
type liveOutlet struct{}

// Measure puts the probes on.
func (liveOutlet) Measure(q faulttree.Quantity, _ rig.Input) (rig.Measured, error) {
	switch q.Unit {
	case faulttree.VoltsAC:
		return rig.Measured{Value: 120, Defined: true}, nil
	case faulttree.Ohms:
		return rig.Measured{Hazard: true, Reason: "the known source is live: ohms are measured on a dead circuit only"}, nil
	}
	return rig.Measured{Defined: true}, nil
}

// Multimeter is a multimeter in somebody's hand. Make one with [New].
type Multimeter struct {
	Setting Setting
	Fuse    bool // the fuse of the ampere jack has blown
	Lead    bool // a lead is broken inside
	Weak    bool // the battery is low
	Wrong   bool // the dial stands on direct for alternating, or the reverse
	NoLowZ  bool // the meter has no low-impedance function

	face *Face
	rng  *rand.Rand
	held Shown
	kept bool    // held has something
	sag  float64 // of a weak battery
}

// New is a meter of a face. Errors inside its accuracy are drawn from rng; nil
// is a meter without error.
func New(face *Face, rng *rand.Rand) *Multimeter {
	m := &Multimeter{face: face, rng: rng}
	m.sag = 0.85
	if rng != nil {
		m.sag = 0.75 + 0.2*rng.Float64()
	}
	return m
}

// Face is the meter's ranges.
func (m *Multimeter) Face() *Face { return m.face }

// Freeze puts a display into the hold, as if it had been read before.
func (m *Multimeter) Freeze(s Shown) { m.held, m.kept = s, true }

// beepsBelow is where the beeper of the continuity function sounds: common
// practice, 10 to 50 Ω.
const beepsBelow = 30 * faulttree.One

// Read puts the probes on the points of q. A reading that the quantity can not
// have, such as one in another unit, comes back as not possible, with the
// sentence a person would be told. The error is for what can not be measured
// on this circuit at all.
func (m *Multimeter) Read(c Circuit, q faulttree.Quantity) (Shown, error) {
	if m.Setting.Hold && m.kept {
		s := m.held
		s.Hazard = ""
		s.Seen = rig.Measured{}
		s.Reading = typed(s, q)
		return s, nil
	}
	s, err := m.look(c, q)
	if err != nil {
		return Shown{}, err
	}
	if s.Text != "" {
		m.Freeze(s)
	}
	return s, nil
}

func (m *Multimeter) look(c Circuit, q faulttree.Quantity) (Shown, error) {
	f := m.Setting.Function
	if f == AsAsked {
		f = For(q)
	}
	if m.Wrong {
		f = f.other()
	}
	unit := f.Unit()
	clamp := f == AmpsAC || f == AmpsDC
	if m.Setting.Jack == AmpereJack && !clamp {
		return m.short(c, q, f)
	}
	asked := q
	asked.Unit = unit
	in := rig.HighImpedance
	if f == LowZ && !m.NoLowZ {
		in = rig.LowImpedance
	}
	if m.Lead && !clamp {
		return m.nothing(q, f), nil
	}
	if in == rig.HighImpedance && q.Has(faulttree.LowZ) {
		asked.Conditions = slices.DeleteFunc(slices.Clone(q.Conditions), func(c faulttree.Condition) bool { return c == faulttree.LowZ })
	}
	if q.OfMeter() {
		c = meterSource(q)
	}
	seen, err := c.Measure(asked, in)
	if err != nil {
		return Shown{}, err
	}
	return m.show(seen, q, f), nil
}

// show is the display of what the probes met, on function f.
func (m *Multimeter) show(seen rig.Measured, q faulttree.Quantity, f Function) Shown {
	s := Shown{Seen: seen}
	switch {
	case seen.Hazard:
		s.Hazard = seen.Reason
		s.Reading = faulttree.NotTaken(seen.Reason)
		return s
	case !seen.Defined && !math.IsInf(real(seen.Value), 0): // ohms without a path are OL
		s.Reading = faulttree.NotTaken(seen.Reason)
		return s
	}
	unit := f.Unit()
	value := real(seen.Value)
	if unit == faulttree.VoltsAC || unit == faulttree.AmpsAC {
		value = math.Hypot(value, imag(seen.Value))
	}
	reach := m.Setting.Range
	if f == Continuity {
		reach = 1
	}
	if m.Weak {
		value *= m.sag
	}
	g := m.face.figure(value, unit, reach, m.noise())
	s.Text, s.Unit = g.text(), g.scale.unit
	if m.Weak && !g.over { // the figure does not stand still
		s.Text = figure{scale: g.scale, counts: g.counts - g.counts/30}.text() + " to " + s.Text
	}
	s.Beeps = f == Continuity && !g.over && faulttree.Amount(g.counts)*g.scale.step < beepsBelow
	s.Reading = typed(s, q)
	return s
}

func (m *Multimeter) noise() float64 {
	if m.rng == nil {
		return 0
	}
	return 2*m.rng.Float64() - 1
}

// typed is the reading as a person types what stands on the display.
func typed(s Shown, q faulttree.Quantity) faulttree.Reading {
	if s.Text == "" {
		return s.Reading
	}
	text := s.Text
	if text != "OL" {
		text += " " + s.Unit
		if strings.Contains(s.Text, " to ") {
			text = "wanders " + text
		}
	}
	r, err := faulttree.ParseReading(text, q)
	if err != nil {
		return faulttree.NotTaken(err.Error())
	}
	return r
}
