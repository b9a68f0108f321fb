package trial

import (
	"testing"

	"faultwright/faulttree"
)

// Readings are told apart by four times the meter's error. The default meter is
// ±(1.2 % + 5 counts) on alternating volts: at 120 V on the 600 V range that is
// 1.94 V, four times some 7.8 V; near 0 on the 60 V range 0.05 V, four times
// 0.2 V. Of a difference of two readings at 120 V the counts add: 1 V, four times
// 4 V.
func TestReadingsAreToldAsFinelyAsAVerdictMayRestOnThem(t *testing.T) {
	m := faulttree.DefaultMeter()
	volts := func(v float64) float32 {
		a := faulttree.Amount(v * float64(faulttree.One))
		return told(m, faulttree.Reading{Quality: faulttree.Steady, Low: a, High: a}, faulttree.VoltsAC)
	}
	for _, c := range []struct {
		low, high     float64
		least, atMost float32 // steps between them
	}{
		{0, 0.19, 0, 0}, {0, 0.25, 1, 1}, {0, 5, 14, 19}, {118, 122, 0, 1}, {112, 120, 1, 2}, {104, 120, 2, 3}, {-0.25, 0, 1, 1},
	} {
		if got := volts(c.high) - volts(c.low); got < c.least || got > c.atMost {
			t.Errorf("%v V and %v V are %v steps apart; want %v to %v", c.low, c.high, got, c.least, c.atMost)
		}
	}
	for v, want := range map[faulttree.Amount]float32{0: 0, 3900: 0, -3900: 0, 4100: 1, -4100: -1, 9000: 2} {
		if got := toldSum(m, v*faulttree.One/1000, 120*faulttree.One, 2, faulttree.VoltsAC); got != want {
			t.Errorf("a difference of %d mV is told as %v; want %v", v, got, want)
		}
	}
	if told(m, faulttree.NotTaken("no"), faulttree.Ohms) != notTaken || told(m, faulttree.Reading{Quality: faulttree.OverRange}, faulttree.Ohms) != overTop {
		t.Error("OL lies above all, and what was not taken below")
	}
	if far := (faulttree.Meter{}).Told(1e6, faulttree.Ohms); !(far > 10) || far > 1e9 { // a meter of which nothing is known
		t.Errorf("an unknown meter tells a megohm as %v", far)
	}
	prev := float32(-1)
	for v := 0.001; v < 2e8; v *= 1.3 { // ever more, across all ranges
		a := faulttree.Amount(v * float64(faulttree.One))
		got := told(m, faulttree.Reading{Quality: faulttree.Steady, Low: a, High: a}, faulttree.Ohms)
		if got < prev || got >= overTop {
			t.Fatalf("%v Ω is told as %v after %v", v, got, prev)
		}
		prev = got
	}
}
