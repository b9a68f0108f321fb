package trial

import (
	"math"
	"math/cmplx"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// worstOf says how the prose of the trees has some quantities taken: not as
// one number in one state, but as the worst of several.
var worstOf = map[string]takenAs{
	// "So for each load in turn … read once with every load off, too": the highest over no loads, each leg's alone, and all.
	"body-earth@loaded": {states: eachLoad, pick: highest},
	// "On a 50 A plug read both hot pins and enter the lower."
	"ohm:plug.l1-body@unplugged": {also: [2]string{"plug.l2", "body"}, pick: lowest},
	// "On a 50 A plug test both hot pins and enter the higher figure."
	"plug.l1-n@unplugged": {also: [2]string{"plug.l2", "plug.n"}, pick: highest},
	"plug.l1-g@unplugged": {also: [2]string{"plug.l2", "plug.g"}, pick: highest},
	// "one heater … near, then in the other half of the vehicle. Enter the figure that lies farthest from the first one."
	"outlet.h-n@loaded": {states: eachLeg, pick: farthest},
}

// takenAs is how a quantity is taken.
type takenAs struct {
	also   [2]string // another pair of points read in the same way; "" for none
	states states
	pick   pick
}

type states uint8

const (
	ordinary states = iota // the state that the quantity names
	eachLoad               // loads off, each leg alone, all on
	eachLeg                // each leg alone, beside the reading with loads off
)

type pick uint8

const (
	only pick = iota
	highest
	lowest
	farthest
)

// The receptacle that proves the meter reads what a receptacle reads that runs
// something, between these volts; the ohms are those of two good leads, half as
// much more or less. Common practice, no source.
const (
	knownLow    = 115.0
	knownHigh   = 125.0
	leadOhms    = 0.2
	noSuchPoint = "there is none"

	// A car battery that starts its engine, in volts. Common practice, no source.
	goodBattery   = 12.6
	batterySpread = 0.4
)

// vehicle answers the questions of walks about one draw. It measures only what
// is asked, once.
type vehicle struct {
	bench    *rig.Bench
	legs     []string
	in       instrument
	draw     draw
	index    map[string]int // of a quantity
	readings []faulttree.Reading
	have     []bool
	err      error
}

// begin makes the vehicle another draw.
func (t *vehicle) begin(d draw) {
	t.draw, t.in.number, t.err = d, uint64(d.number), nil
	clear(t.have)
	if err := t.bench.Set(d.setup); err != nil {
		t.err = err
	}
}

// reading is what the meter shows of q, when the meter was proved that many
// times before.
func (t *vehicle) reading(q faulttree.Quantity, proofs int) faulttree.Reading {
	i, known := t.index[q.ID]
	if !known {
		return faulttree.NotTaken(noSuchPoint)
	}
	if !t.have[i] {
		t.readings[i], t.have[i] = t.correct(q), true
	}
	if b := t.draw.misuse; b.mistake != 0 && (!b.late || proofs > 0) {
		return t.in.misread(b, q, t.readings[i])
	}
	return t.readings[i]
}

// correct is the reading of a meter that is used as it should be.
func (t *vehicle) correct(q faulttree.Quantity) faulttree.Reading {
	switch q.ID {
	case faulttree.MeterProof:
		return t.in.proof(q)
	case faulttree.MeterBattery:
		return t.in.show(q, goodBattery+batterySpread*t.in.chance(q.ID))
	case faulttree.MeterLeads:
		return t.in.show(q, leadOhms*(1+0.5*t.in.chance(q.ID)))
	case faulttree.MeterTips:
		return overRange()
	}
	value, ok := t.value(q)
	if !ok {
		return faulttree.NotTaken(noSuchPoint)
	}
	return t.in.show(q, value)
}

// value is the solved value of q, in the way that the trees have it taken; ok
// is false where the rig has no such points or the circuit gives no number.
func (t *vehicle) value(q faulttree.Quantity) (value float64, ok bool) {
	w := worstOf[q.ID]
	if w.states == ordinary {
		value, ok = t.one(q, rig.StateFor(q, t.legs))
		if w.also[0] == "" || !t.bench.HasNode(w.also[0]) || !ok {
			return value, ok
		}
		other := q
		other.ID, other.Red, other.Black = strings.ReplaceAll(q.ID, ".l1", ".l2"), w.also[0], w.also[1]
		second, ok := t.one(other, rig.StateFor(other, t.legs))
		if !ok {
			return value, true
		}
		if w.pick == lowest {
			return min(value, second), true
		}
		return max(value, second), true
	}
	idle, ok := t.one(q, rig.StateFor(q, nil))
	if !ok {
		return 0, false
	}
	value = idle
	consider := func(legs []string) {
		x, fine := t.one(q, rig.StateFor(q, legs))
		switch {
		case !fine:
		case w.pick == highest:
			value = max(value, x)
		case math.Abs(x-idle) > math.Abs(value-idle):
			value = x
		}
	}
	for i := range t.legs {
		consider(t.legs[i : i+1])
	}
	if w.states == eachLoad && len(t.legs) > 1 {
		consider(t.legs)
	}
	return value, true
}

// one measures q in one state.
func (t *vehicle) one(q faulttree.Quantity, st rig.State) (float64, bool) {
	if !t.bench.HasNode(q.Red) || q.Black != "" && !t.bench.HasNode(q.Black) || t.err != nil {
		return 0, false
	}
	m, err := t.bench.MeasureIn(q, st, rig.HighImpedance)
	if err != nil {
		t.err = err
		return 0, false
	}
	switch {
	case m.Hazard:
		return 0, false
	case !m.Defined && q.Unit == faulttree.Ohms:
		return math.Inf(1), true // no circuit between the tips
	case !m.Defined && q.Unit == faulttree.VoltsAC, !m.Defined && q.Unit == faulttree.VoltsDC:
		return 0, true // a floating island: the meter itself is the only tie
	case !m.Defined:
		return 0, false
	case q.Unit.Signed() || q.Unit == faulttree.Ohms:
		return real(m.Value), true
	}
	return cmplx.Abs(m.Value), true
}
