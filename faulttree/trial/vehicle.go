package trial

import (
	"math"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/vehicle"
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
// something, as many volts above or below the middle; the ohms are those of two
// good leads, half as much more or less. Common practice, no source.
const (
	knownMiddle = 120.0
	knownSpread = 5.0
	leadOhms    = 0.2
	noSuchPoint = "there is none"

	// A car battery that starts its engine, in volts. Common practice, no source.
	goodBattery   = 12.6
	batterySpread = 0.4
)

// reader takes the readings of one draw. It measures only what is asked, once.
type reader struct {
	vehicle  *vehicle.Vehicle
	in       instrument
	draw     draw
	index    map[string]int // of a quantity
	listed   faulttree.Quantities
	readings []faulttree.Reading
	have     []bool
}

// begin puts another draw before the reader.
func (t *reader) begin(d draw) error {
	t.draw, t.in.number = d, uint64(d.number)
	clear(t.have)
	return t.vehicle.Put(d.setup)
}

// reading is what the meter shows of q, when the meter was proved that many
// times before.
func (t *reader) reading(q faulttree.Quantity, proofs int) (faulttree.Reading, error) {
	i, known := t.index[q.ID]
	if !known {
		return faulttree.NotTaken(noSuchPoint), nil
	}
	if m := t.draw.misuse; m.mistake != 0 && (!m.late || proofs > 0) {
		return t.misread(q)
	}
	if !t.have[i] {
		value, ok, err := t.seen(q)
		if err != nil {
			return faulttree.Reading{}, err
		}
		t.readings[i], t.have[i] = faulttree.NotTaken(noSuchPoint), true
		if ok {
			t.readings[i] = t.in.show(q, value)
		}
	}
	return t.readings[i], nil
}

// seen is what the tips touch for q: a value of the vehicle, or of what the
// meter alone is tried on.
func (t *reader) seen(q faulttree.Quantity) (value float64, ok bool, err error) {
	if q.OfMeter() {
		value, ok = t.tried(q)
		return value, ok, nil
	}
	return t.value(q)
}

// tried is what the meter alone is tried on, in the unit that its dial stands
// on; ok is false for ohms on what has voltage.
func (t *reader) tried(q faulttree.Quantity) (value float64, ok bool) {
	chance := t.in.chance(q.ID)
	on := faulttree.VoltsAC
	switch q.ID {
	case faulttree.MeterTips:
		on, value = faulttree.Ohms, math.Inf(1)
	case faulttree.MeterLeads:
		on, value = faulttree.Ohms, leadOhms*(1+0.5*chance)
	case faulttree.MeterBattery:
		on, value = faulttree.VoltsDC, goodBattery+batterySpread*chance
	default:
		value = knownMiddle + knownSpread*chance
	}
	if q.Unit != on {
		return 0, q.Unit != faulttree.Ohms
	}
	return value, true
}

// value is the solved value of q, in the way that the trees have it taken; ok
// is false where the rig has no such points or the circuit gives no number.
func (t *reader) value(q faulttree.Quantity) (value float64, ok bool, err error) {
	w := worstOf[q.ID]
	legs := t.vehicle.Legs()
	if w.states != ordinary {
		return t.worst(q, w, legs)
	}
	value, ok, err = t.vehicle.Asked(legs).Value(q)
	if w.also[0] == "" || !ok || err != nil {
		return value, ok, err
	}
	q.ID, q.Red, q.Black = strings.ReplaceAll(q.ID, ".l1", ".l2"), w.also[0], w.also[1]
	second, there, err := t.vehicle.Asked(legs).Value(q)
	switch {
	case err != nil || !there:
		return value, true, err
	case w.pick == lowest:
		return min(value, second), true, nil
	}
	return max(value, second), true, nil
}

// worst is the value of q that a table entry picks among several states of the
// loads.
func (t *reader) worst(q faulttree.Quantity, w takenAs, legs []string) (worst float64, ok bool, err error) {
	idle, ok, err := t.vehicle.Asked(nil).Value(q)
	if !ok || err != nil {
		return 0, false, err
	}
	var groups [][]string
	for i := range legs {
		groups = append(groups, legs[i:i+1])
	}
	if w.states == eachLoad && len(legs) > 1 {
		groups = append(groups, legs)
	}
	worst = idle
	for _, on := range groups {
		x, there, err := t.vehicle.Asked(on).Value(q)
		switch {
		case err != nil:
			return 0, false, err
		case !there:
		case w.pick == highest:
			worst = max(worst, x)
		case math.Abs(x-idle) > math.Abs(worst-idle):
			worst = x
		}
	}
	return worst, true, nil
}
