package faulttree_test

import (
	"math"
	"testing"

	. "faultwright/faulttree"
)

// A value that is worked out is told as the reader's meter would show it, in three
// figures at most: a range of 600 V of 6000 counts shows tenths of a volt.
func TestAbout(t *testing.T) {
	coarse := DefaultMeter()
	coarse.FullScale = 2000
	volts := Quantity{Unit: VoltsAC, Range: 600 * One}
	for _, c := range []struct {
		meter Meter
		value float64
		q     Quantity
		want  string
	}{
		{DefaultMeter(), 0.2272, volts, "0.2 V"},
		{DefaultMeter(), 118.4321, volts, "118 V"},
		{DefaultMeter(), 59.26, volts, "59.3 V"},
		{DefaultMeter(), 0.04, volts, "0 V"},
		{DefaultMeter(), 99.96, volts, "100 V"},
		{DefaultMeter(), 118.4321, Quantity{Unit: VoltsAC}, "118 V"},
		{coarse, 0.2272, volts, "0 V"},
		{coarse, 118.4321, volts, "118 V"},
		{DefaultMeter(), 12.6543, Quantity{Unit: VoltsDC, Range: 60 * One}, "12.7 V"},
		{DefaultMeter(), 0.2272, Quantity{Unit: VoltsDC, Range: 60 * One}, "0.23 V"},
		{DefaultMeter(), -12.6543, Quantity{Unit: VoltsDC, Range: 60 * One}, "-12.7 V"},
		{DefaultMeter(), -12.6543, Quantity{Unit: VoltsDC, Range: 60 * One, SizeOnly: true}, "12.7 V"},
		{DefaultMeter(), 0.0521, Quantity{Unit: Ohms, Range: 60_000_000 * One}, "0.1 Ω"},
		{DefaultMeter(), 16_666_667, Quantity{Unit: Ohms, Range: 60_000_000 * One}, "16.7 MΩ"},
		{DefaultMeter(), 61e6, Quantity{Unit: Ohms}, "OL"},
		{DefaultMeter(), math.Inf(1), Quantity{Unit: Ohms}, "OL"},
		{DefaultMeter(), 4.1666, Quantity{Unit: AmpsAC, Range: 60 * One}, "4.17 A"},
	} {
		if got := c.meter.About(c.value, c.q); got != c.want {
			t.Errorf("%d counts, %v of %v: %q, want %q", c.meter.FullScale, c.value, c.q.Unit, got, c.want)
		}
	}
}

// What nothing decides is no figure, and no endless search for one.
func TestAboutNothing(t *testing.T) {
	for _, u := range []Unit{VoltsAC, VoltsDC, Ohms, AmpsAC} {
		q := Quantity{Unit: u}
		if r := DefaultMeter().Display(math.NaN(), q); r.Quality != NotPossible {
			t.Errorf("NaN is shown as %+v", r)
		}
		if text := DefaultMeter().About(math.NaN(), q); text == "" {
			t.Error("NaN is worded as nothing at all")
		}
	}
}
