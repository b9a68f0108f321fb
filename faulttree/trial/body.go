package trial

import (
	"math/cmplx"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

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
