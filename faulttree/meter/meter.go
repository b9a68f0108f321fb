package meter

import (
	"cmp"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
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
	Function Function         `json:"function,omitzero"`
	Range    faulttree.Amount `json:"range,omitzero"` // the first range that reaches this; 0 is automatic
	Hold     bool             `json:"hold,omitzero"`
	Jack     Jack             `json:"jack,omitzero"`
}

// Shown is what a person sees.
type Shown struct {
	Text    string // the digits, "119.9", "OL"; "" where there is no number
	Unit    string // beside the digits, "V", "kΩ"
	Beeps   bool   // the continuity beeper sounds
	Hazard  string // what happened instead, a sentence; "" is the rule
	Reading faulttree.Reading
	Seen    bench.Measured // what the probes met, before the display
}

// Circuit is what the probes are put on, such as a vehicle as it stands.
type Circuit interface {
	Measure(q faulttree.Quantity, in bench.Input) (bench.Measured, error)
}

// meterSource is what the probes touch where the meter alone is tried.
func meterSource(q faulttree.Quantity) Circuit {
	switch q.Proves {
	case faulttree.ProvesLeads:
		return tips(0.2)
	case faulttree.ProvesOpenTips:
		return tips(math.Inf(1))
	case faulttree.ProvesVoltsDC:
		return chargedBattery{}
	}
	return liveOutlet{}
}

// tips is the ohms between the two tips. Those of two good leads, 0.2 Ω held
// together, are common practice, no source.
type tips float64

// Measure reads the leads.
func (t tips) Measure(q faulttree.Quantity, _ bench.Input) (bench.Measured, error) {
	if q.Unit == faulttree.Ohms {
		return bench.Measured{Value: complex(float64(t), 0), Defined: true}, nil
	}
	return bench.Measured{Defined: true}, nil
}

// chargedBattery is a battery known to be charged: 12.6 V, common practice.
type chargedBattery struct{}

// Measure puts the probes on.
func (chargedBattery) Measure(q faulttree.Quantity, _ bench.Input) (bench.Measured, error) {
	switch q.Unit {
	case faulttree.VoltsDC:
		return bench.Measured{Value: 12.6, Defined: true}, nil
	case faulttree.Ohms:
		return bench.Measured{Hazard: true, Reason: "the battery has voltage: ohms are measured on a dead circuit only"}, nil
	}
	return bench.Measured{Defined: true}, nil
}

// liveOutlet is an outlet elsewhere, known to be live.
type liveOutlet struct{}

// Measure puts the probes on.
func (liveOutlet) Measure(q faulttree.Quantity, _ bench.Input) (bench.Measured, error) {
	switch q.Unit {
	case faulttree.VoltsAC:
		return bench.Measured{Value: 120, Defined: true}, nil
	case faulttree.Ohms:
		return bench.Measured{Hazard: true, Reason: "the known source is live: ohms are measured on a dead circuit only"}, nil
	}
	return bench.Measured{Defined: true}, nil
}

// Multimeter is a multimeter in somebody's hand. Make one with [New].
type Multimeter struct {
	Setting       Setting
	FuseBlown     bool // the fuse of the ampere jack has blown
	LeadBroken    bool // a lead is broken inside
	LowBattery    bool // the battery is low
	WrongFunction bool // the dial stands on direct for alternating, or the reverse
	NoLowZ        bool // the meter has no low-impedance function

	// Tried is what the quantities of the meter alone are read on, the source that
	// proves it and its own tips; nil is ordinary ones.
	Tried Circuit
	// LeastAC is the lowest range of alternating volts that the reader turns to; 0
	// is any.
	LeastAC faulttree.Amount
	// Sag is the share of its reading that a meter with a low battery shows; 0 is
	// an ordinary one.
	Sag float64

	face  *Face
	noise Noise
	held  Shown
	kept  bool // held has something
}

// Noise is how much of its accuracy the meter uses up at a reading, from -1 to
// 1.
type Noise func(q faulttree.Quantity) float64

// New is a meter of a face. Without noise it has no error.
func New(face *Face, noise Noise) *Multimeter { return &Multimeter{face: face, noise: noise} }

// ordinarySag is what a low battery leaves of a reading. Common practice, no
// source.
const ordinarySag = 0.85

// Face is the meter's ranges.
func (m *Multimeter) Face() *Face { return m.face }

// Freeze puts a display into the hold, as if it had been read before.
func (m *Multimeter) Freeze(s Shown) { m.held, m.kept = s, true }

// beepsBelow is where the beeper of the continuity function sounds: common
// practice, 10 to 50 Ω.
const beepsBelow = 30 * faulttree.One

// Read puts the probes on the points of q. A reading that the quantity cannot
// have, such as one in another unit, comes back as not possible, with the
// sentence a person would be told. The error is for what cannot be measured
// on this circuit at all.
func (m *Multimeter) Read(c Circuit, q faulttree.Quantity) (Shown, error) {
	if m.Setting.Hold && m.kept {
		s := m.held
		s.Hazard = ""
		s.Seen = bench.Measured{}
		s.Reading = typed(s, q)
		return s, nil
	}
	s, err := m.measure(c, q)
	if err != nil {
		return Shown{}, err
	}
	if s.Text != "" {
		m.Freeze(s)
	}
	return s, nil
}

func (m *Multimeter) measure(c Circuit, q faulttree.Quantity) (Shown, error) {
	f := m.Setting.Function
	if f == AsAsked {
		f = For(q)
	}
	if m.WrongFunction {
		f = f.acDcExchanged()
	}
	unit := f.Unit()
	clamp := f == AmpsAC || f == AmpsDC
	if m.Setting.Jack == AmpereJack && !clamp {
		return m.throughAmpereJack(c, q, f)
	}
	asked := q
	asked.Unit = unit
	in := bench.HighImpedance
	if f == LowZ && !m.NoLowZ {
		in = bench.LowImpedance
	}
	if m.LeadBroken && !clamp {
		return m.openInput(q, f), nil
	}
	if in == bench.HighImpedance && q.Has(faulttree.LowZ) {
		asked.Conditions = slices.DeleteFunc(slices.Clone(q.Conditions), func(c faulttree.Condition) bool { return c == faulttree.LowZ })
	}
	if q.OfMeter() {
		c = m.tried(q)
	}
	seen, err := c.Measure(asked, in)
	if err != nil {
		return Shown{}, err
	}
	return m.show(seen, q, f), nil
}

// show is the display of what the probes met, on function f.
func (m *Multimeter) show(seen bench.Measured, q faulttree.Quantity, f Function) Shown {
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
	if m.LowBattery {
		value *= cmp.Or(m.Sag, ordinarySag)
	}
	if reach == 0 && unit == faulttree.VoltsAC && value < m.LeastAC.Float() {
		reach = m.LeastAC
	}
	noise := 0.0
	if m.noise != nil {
		noise = m.noise(q)
	}
	g := m.face.figure(value, unit, reach, noise)
	s.Text, s.Unit = g.text(), g.scale.unit
	if m.LowBattery && !g.over { // the figure does not stand still
		s.Text = figure{scale: g.scale, counts: g.counts - g.counts/30}.text() + " to " + s.Text
	}
	s.Beeps = f == Continuity && !g.over && faulttree.Amount(g.counts)*g.scale.step < beepsBelow
	s.Reading = typed(s, q)
	return s
}

// tried is what a quantity of the meter alone is read on.
func (m *Multimeter) tried(q faulttree.Quantity) Circuit {
	if m.Tried != nil {
		return m.Tried
	}
	return meterSource(q)
}

// typed is the reading as a person types what stands on the display. A sign
// that an alternating reading cannot have is left out: whoever types it does not
// see that the dial stands on direct.
func typed(s Shown, q faulttree.Quantity) faulttree.Reading {
	if s.Text == "" {
		return s.Reading
	}
	text := s.Text
	if !q.Unit.Signed() {
		text = strings.TrimPrefix(text, "-")
	}
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
