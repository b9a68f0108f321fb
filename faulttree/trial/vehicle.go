package trial

import (
	"math"
	"math/cmplx"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
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
	t.draw, t.in.number = d, d.chance
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
	return t.vehicle.Taken(q)
}

// tried is what the meter alone is tried on, in the unit that its dial stands
// on; ok is false for ohms on what has voltage.
func (t *reader) tried(q faulttree.Quantity) (value float64, ok bool) {
	chance := t.in.chance(q.ID)
	switch q.Proves {
	case faulttree.ProvesOpenTips:
		value = math.Inf(1)
	case faulttree.ProvesLeads:
		value = leadOhms * (1 + 0.5*chance)
	case faulttree.ProvesVoltsDC:
		value = goodBattery + batterySpread*chance
	case faulttree.ProvesVoltsAC:
		value = knownMiddle + knownSpread*chance
	}
	if q.Unit != q.Proves.Unit() {
		return 0, q.Unit != faulttree.Ohms
	}
	return value, true
}

// bodyCheck is the highest voltage of what a hand may touch (see
// [faulttree.Touch]) to remote earth, no meter connected, of one draw: with loads off, as drawn and all on, the soil under
// the vehicle as wet and as dry as the rig allows. It is solved when asked.
type bodyCheck struct {
	touch faulttree.Touch
	done  bool
	volts float64
}

// live reports whether the body can reach the touch limit.
func (b *bodyCheck) live(k *reader) (bool, error) {
	if !b.done {
		b.done = true
		if err := b.solve(k); err != nil {
			return false, err
		}
	}
	return b.volts >= b.touch.From.Float(), nil
}

func (b *bodyCheck) solve(k *reader) error {
	if !k.draw.rig.HasNode(b.touch.Point) {
		return nil
	}
	none := func(string) bool { return false }
	drawn := func(leg string) bool { return k.draw.loads[leg] }
	all := func(string) bool { return true }
	at := k.draw.rig.Param(b.touch.Soil)
	values := slices.Clone(k.draw.setup.Values)
	wets := []float64{0}
	if at != rig.None {
		p := k.draw.rig.Params[at]
		wets = []float64{p.From, p.To}
	}
	for _, wet := range wets {
		if at != rig.None {
			values[at] = wet
		}
		if err := k.vehicle.Put(rig.Setup{Values: values, Faults: k.draw.setup.Faults}); err != nil {
			return err
		}
		for _, on := range []func(leg string) bool{none, drawn, all} {
			for _, leg := range k.vehicle.Legs() {
				k.vehicle.Turn(leg, on(leg))
			}
			v, ok, err := k.vehicle.Volts(b.touch.Point)
			if err != nil {
				return err
			}
			if ok {
				b.volts = max(b.volts, cmplx.Abs(v))
			}
		}
	}
	return k.vehicle.Put(k.draw.setup)
}
