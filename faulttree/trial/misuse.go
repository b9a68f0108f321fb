package trial

import (
	"math"
	"math/rand/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// misread is what the meter of the draw shows of q while it is used wrongly or
// fails. The meter is made anew for each reading, so that a walk which goes two
// ways reads the same on both: its fuse has blown before, and what a hold has
// frozen is said here.
func (t *reader) misread(q faulttree.Quantity) (faulttree.Reading, error) {
	if _, there, err := t.seen(q); err != nil || !there {
		return faulttree.NotTaken(noSuchPoint), err
	}
	m := meter.New(t.in.face, t.in.noise)
	m.Apply(t.draw.setup.Faults)
	m.Tried, m.LeastAC, m.FuseBlown = misused{t}, faulttree.SmallVolts*faulttree.One, true
	m.NoLowZ = false // the reader has the function; the ghost lies on the vehicle
	m.Sag = weakMiddle + weakSpread*t.in.chance("weak")
	if m.Setting.Hold {
		m.Freeze(t.frozen(q))
	}
	shown, err := m.Read(misused{t}, q)
	return shown.Reading, err
}

// A low battery leaves this share of a reading, more or less. Common practice,
// no source.
const (
	weakMiddle = 0.85
	weakSpread = 0.1
)

// frozen is what a hold shows on the function of q, to the digit: what stood
// there at its proof, nothing before one, or a stale figure from the start.
func (t *reader) frozen(q faulttree.Quantity) meter.Shown {
	late, stale := t.draw.misuse.late, t.draw.misuse.stale
	on := faulttree.ProvesVoltsAC
	switch {
	case q.Unit == faulttree.Ohms && stale:
		on = faulttree.ProvesOpenTips
	case q.Unit == faulttree.Ohms:
		on = faulttree.ProvesLeads
	case q.Unit.Signed():
		on = faulttree.ProvesVoltsDC
	case !late && !stale:
		return t.in.face.Shown(0, q.Unit, 0)
	}
	was := t.listed.Proving(on)
	value, _ := t.tried(was)
	return t.in.face.Shown(value, q.Unit, t.in.noise(was))
}

// misused is the vehicle as a meter finds it that is used wrongly.
type misused struct{ *reader }

// Measure puts the tips where q asks for them. A ghost lies on what is dead
// beside something live, and a low-impedance meter does not see it.
func (t misused) Measure(q faulttree.Quantity, in bench.Input) (bench.Measured, error) {
	value, ok, err := t.seen(q)
	if err != nil || !ok {
		return bench.Measured{Reason: noSuchPoint}, err
	}
	ghost := t.draw.misuse.mistake == rig.GhostReading && q.Unit == faulttree.VoltsAC && in == bench.HighImpedance && !q.OfMeter()
	if ghost && value < deadVolts {
		value = ghostMiddle + ghostSpread*t.in.chance("ghost "+q.ID)
	}
	return bench.Measured{Value: complex(value, 0), Defined: !math.IsInf(value, 0)}, nil
}

// A conductor of less than deadVolts is dead; a ghost on it has ghostMiddle
// volts, more or less. Common practice, no source.
const (
	deadVolts   = 2
	ghostMiddle = 45
	ghostSpread = 30
)

// misuse is a wrong use of the meter, from the start or only after its first
// proof.
type misuse struct {
	mistake rig.Mistake
	late    bool // sets in after the first proof
	stale   bool // of a hold from the start: what is frozen is a live reading
}

// instrument turns solved values into readings of the default meter, on the
// range it finds by itself, as the trees ask ("step the range down"). Of its
// error the greater part is one that all readings of a vehicle share, as a
// meter's scale is off by the same share everywhere.
type instrument struct {
	face   *meter.Face
	seed   uint64
	number uint64
	exact  bool // chance is left out: no error, and the middle of all it is tried on
}

// shared is the part of the meter's error that a vehicle's readings share.
// Common practice, no source.
const shared = 0.7

// chance is an even number from -1 to 1 that belongs to a draw and a name.
func (in *instrument) chance(name string) float64 {
	if in.exact {
		return 0
	}
	var g rand.PCG
	g.Seed(in.seed^nameSeed(name), in.number)
	return 2*float64(g.Uint64()>>11)/(1<<53) - 1
}

// nameSeed is the FNV-1a hash of a name.
func nameSeed(name string) uint64 {
	h := uint64(14695981039346656037)
	for i := range len(name) {
		h = (h ^ uint64(name[i])) * 1099511628211
	}
	return h
}

// show is the reading of a solved value in the base unit of q.
func (in *instrument) show(q faulttree.Quantity, value float64) faulttree.Reading {
	reach := faulttree.Amount(0)
	if q.Unit == faulttree.VoltsAC && math.Abs(value) < faulttree.SmallVolts {
		reach = faulttree.SmallVolts * faulttree.One
	}
	return in.face.Display(value, q.Unit, reach, in.noise(q))
}

// scales are the names under which the error of each function's scale is drawn.
var scales = [...]string{"", "scale of volts", "scale of direct volts", "scale of ohms", "scale of amperes", "scale of direct amperes"}

// noise is how much of the meter's accuracy a reading of the draw uses up.
func (in *instrument) noise(q faulttree.Quantity) float64 {
	return shared*in.chance(scales[q.Unit]) + (1-shared)*in.chance(q.ID)
}
