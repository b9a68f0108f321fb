package suspect

import (
	"context"
	"fmt"
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// ready is a reading typed as a person would, ready to be compared.
func ready(t testing.TB, id, text string) *reading {
	t.Helper()
	e := read(t, id, text)
	r := newReading(e.Quantity, e.Reading, faulttree.DefaultMeter())
	return &r
}

// What a meter may show where the points have some value makes one whole, but for
// what the width owes to the figure itself.
func TestDensitiesAreWhole(t *testing.T) {
	for id, values := range map[string][]float64{
		"battery.pos-neg":             {0, 2, 12.6},
		"ohm:plug.n-cord.n@unplugged": {5, 300, 3000, 45_000, 2e6},
	} {
		for _, x := range values {
			r, sum := ready(t, id, "1"), 0.0
			const step = 0.002
			for z := -8.0; z < 22; z += step { // evenly in the logarithm
				size := math.Exp(z)
				r.deviation = 0.005 * x
				for _, r.value = range []float64{size, -size} {
					if r.value > 0 || !r.ohms {
						sum += r.in(x) * size * step
					}
				}
			}
			if math.Abs(sum-1) > 0.15 {
				t.Errorf("%s at %v: all readings together have %.3f", id, x, sum)
			}
		}
	}
}

func TestOverRange(t *testing.T) {
	ol := ready(t, "ohm:plug.n-cord.n@unplugged", "OL")
	for _, c := range []struct{ ohms, low, high float64 }{
		{math.Inf(1), 1, 1}, {0.2, 0, 1e-9}, {400, 0, 1e-9},
		{5000, 0.4, 0.51}, // beyond the range that is set first, within the highest
		{200e6, 0.95, 1},
	} {
		if p := ol.in(c.ohms); p < c.low || p > c.high {
			t.Errorf("at %v Ω the display shows OL with %v; expected %v to %v", c.ohms, p, c.low, c.high)
		}
	}
	short := faulttree.DefaultMeter() // whose booklet ends at 2 MΩ
	short.Ranges = must.Have(faulttree.NewRanges([]faulttree.Range{{Unit: faulttree.Ohms, Top: 2_000_000 * faulttree.One, Count: 1000 * faulttree.One}}))(t)
	e := read(t, "ohm:plug.n-cord.n@unplugged", "OL")
	if r := newReading(e.Quantity, e.Reading, short); r.in(20e6) < 0.9 || ol.in(20e6) > 0.6 {
		t.Errorf("at 20 MΩ the display shows OL with %v where the ranges end at 2 MΩ, with %v where they end at 60 MΩ", r.in(20e6), ol.in(20e6))
	}
	if p := ready(t, "ohm:plug.n-cord.n@unplugged", "0.3 Ω").in(math.Inf(1)); p != 0 {
		t.Errorf("an open circuit reads 0.3 Ω with %v", p)
	}
}

func TestAWanderingDisplayIsWide(t *testing.T) {
	steady, wandering := ready(t, "panel.n-g", "5.5 V"), ready(t, "panel.n-g", "wanders 3 V to 8 V")
	if near, far := wandering.in(5.5)/steady.in(5.5), wandering.in(8)/steady.in(8); near > 0.5 || far < 2 {
		t.Errorf("beside a steady one it has %v in the middle and %v at its edge", near, far)
	}
}

func TestSignOfASizeDoesNotCount(t *testing.T) {
	e := read(t, "battery.pos-neg", "-12.6 V")
	signed := newReading(e.Quantity, e.Reading, faulttree.DefaultMeter())
	e.Quantity.SizeOnly = true
	size := newReading(e.Quantity, e.Reading, faulttree.DefaultMeter())
	if signed.in(12.6) > 1e-6 || size.in(12.6) < 1 || size.in(-12.6) < 1 {
		t.Errorf("-12.6 V is 12.6 V with %v, its size with %v and %v", signed.in(12.6), size.in(12.6), size.in(-12.6))
	}
}

// Megohms of insulation are known to a third, a contact's ohms closely.
func TestInsulationIsComparedInTheLogarithm(t *testing.T) {
	megohms := ready(t, "ohm:plug.n-cord.n@unplugged", "3.0 MΩ")
	if p := megohms.in(2e6) / megohms.in(3e6); p < 0.2 {
		t.Errorf("2 MΩ for 3 MΩ has %v of what 3 MΩ has", p)
	}
	ohms := ready(t, "ohm:plug.n-cord.n@unplugged", "30.0 Ω")
	if p := ohms.in(20) / ohms.in(30); p > 0.01 {
		t.Errorf("20 Ω for 30 Ω has %v of what 30 Ω has", p)
	}
}

// What goes wrong is a missed contact, a frozen display, the contact beside.
func TestSlipsAreLikelierThanAnything(t *testing.T) {
	r := New(toy(5, 1), faulttree.DefaultMeter(), toyFaults)
	slip := func(evidence ...Evidence) float64 {
		all := must.Have(r.pieces(context.Background(), r.pool, evidence))(t)
		return all[0].wrongDensity
	}
	frozen := func(evidence ...Evidence) float64 {
		all := must.Have(r.pieces(context.Background(), r.pool, evidence))(t)
		return all[len(all)-1].wrongDensity
	}
	odd := read(t, "panel.l1-n", "57.3 V")
	anything := slip(odd)
	if missed := slip(read(t, "panel.l1-n", "0.0 V")); missed < 5*anything {
		t.Errorf("0 V is wrong with %v, 57.3 V with %v", missed, anything)
	}
	if shown := frozen(read(t, "panel.l1-l2", "57.3 V"), odd); shown < 5*anything {
		t.Errorf("57.3 V again is wrong with %v, by itself with %v", shown, anything)
	}
	if shown := slip(odd, read(t, "panel.l2-n", "57.3 V")); shown < 5*anything {
		t.Errorf("57.3 V, which the contact beside shows, is wrong with %v, by itself with %v", shown, anything)
	}
	if shown := slip(odd, read(t, "pedestal.l2-n", "57.3 V")); shown > anything {
		t.Errorf("57.3 V, which a contact elsewhere shows, is wrong with %v, by itself with %v", shown, anything)
	}
}

// The same read five times is five chances to slip, but the model is off once.
func TestRepeatsCountTheModelOnce(t *testing.T) {
	r := New(toy(400, 9), faulttree.DefaultMeter(), toyFaults).Assuming(sure)
	e := read(t, "panel.n-g", "4.0 V")
	once, five := believe(t, r, e), believe(t, r, e, e, e, e, e)
	for i := range once.Shares() {
		if a, b := once.Shares()[i], five.Shares()[i]; math.Abs(a-b) > 1e-6 {
			t.Fatalf("case %d has %v once and %v five times", i, a, b)
		}
	}
}

// What comes out the same again is the less likely to have gone wrong: by one part in
// four at most, for a frozen display shows the same however often it is read. What comes
// out otherwise says no more than either.
func TestAReadingThatComesOutTheSameAgainIsSurer(t *testing.T) {
	neutral := "ohm:plug.n-cord.n@unplugged"
	p := known(
		kindOf{1, []string{"poor-neutral@cord"}, map[string]float64{neutral: 400}},
		kindOf{30, nil, map[string]float64{neutral: 0.1}})
	odds := func(readings ...string) float64 {
		var all []Evidence
		for _, text := range readings {
			all = append(all, read(t, neutral, text))
		}
		b := believe(t, New(p, faulttree.DefaultMeter(), told), all...)
		return shareOf(b, NoFault, "") / shareOf(b, "poor-neutral", faulttree.Cord)
	}
	once, twice, often := odds("400 ohm"), odds("400 ohm", "400 ohm"), odds("400 ohm", "400 ohm", "400 ohm", "400 ohm")
	if ratio := twice / once; ratio < 0.25 || ratio > 0.26 {
		t.Errorf("read twice, a sound vehicle has %v of the odds that it has once; expected a quarter", ratio)
	}
	if math.Abs(often/twice-1) > 0.01 {
		t.Errorf("read four times it has %v, twice %v", often, twice)
	}
	if other := odds("400 ohm", "0.1 ohm"); other < 10*once || other > odds("0.1 ohm")/10 {
		t.Errorf("read 400 and 0.1 ohm it has %v; 400 ohm alone %v, 0.1 ohm alone %v", other, once, odds("0.1 ohm"))
	}
}

func TestExpectedInWords(t *testing.T) {
	volts, ohms := quantity(t, "panel.l1-n"), quantity(t, "ohm:plug.n-cord.n@unplugged")
	open := math.Inf(1)
	for _, c := range []struct {
		e    Expected
		q    faulttree.Quantity
		want string
	}{
		{Expected{118.37, 118.39, 118.41}, volts, "118 V"},
		{Expected{54.21, 60, 63.84}, volts, "54.2 V to 63.8 V"},
		{Expected{0.01, 0.02, 0.03}, volts, "0 V"},
		{Expected{0.1, 0.1, 0.1}, ohms, "0.1 Ω"},
		{Expected{5234, 6000, open}, ohms, "5.23 kΩ to OL"},
		{Expected{open, open, open}, ohms, "OL"},
		{Expected{2.34e6, 2.34e6, 2.34e6}, ohms, "2.34 MΩ"},
	} {
		if got := c.e.Show(c.q, faulttree.DefaultMeter()); got != c.want {
			t.Errorf("%+v is shown as %q; expected %q", c.e, got, c.want)
		}
	}
}

func TestLikelyInWords(t *testing.T) {
	for _, c := range []struct {
		share, next float64
		first       bool
		want        Likely
	}{{0.5, 0.4, false, MostLikely}, {0.3, 0.09, true, MostLikely}, {0.3, 0.2, true, AlsoPossible}, {0.3, 0.09, false, AlsoPossible}, {0.049, 0, false, Unlikely}} {
		if got := likely(c.share, c.first, c.next); got != c.want {
			t.Errorf("%+v is %v", c, got)
		}
	}
	if s := fmt.Sprint(MostLikely, AlsoPossible, Unlikely); s != "most likely also possible unlikely" {
		t.Error(s)
	}
}
