package suspect

import (
	"math"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// A single reading that carries a suspect is offered once more, with the reason;
// not where another agrees with it, where it was read twice, where it tells nothing,
// nor where it may have reached a danger limit.
func TestOneReadingIsReadOnceMore(t *testing.T) {
	neutral, other, volts := "ohm:plug.n-cord.n@unplugged", "panel.l1-n", "plug.l1-n@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, neutral, faulttree.DeadTest), exposed(t, other, faulttree.DeadTest)}, []string{neutral}, []string{other})
	p := known(
		kindOf{1, []string{"poor-neutral@cord"}, map[string]float64{neutral: 4, other: 100}},
		kindOf{30, nil, map[string]float64{neutral: 0.1, other: 120}})
	odd, fine := read(t, neutral, "4.2 ohm"), read(t, neutral, "0.1 ohm")
	got := nexts(t, p, f, faulttree.Owner, Reader{}, odd, read(t, other, "not possible: dark"))
	wantNext(t, got, neutral)
	if n := got[0]; !n.Again || n.For != nil || n.Why() != "one reading carries “poor-neutral” (cord); read it once more, tips on bare metal" || n.Bits < 0.3 {
		t.Errorf("it is %+v, why %s", n, n.Why())
	}
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, odd, read(t, other, "100 V")))
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, odd, odd, read(t, other, "not possible: dark")))
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, fine, read(t, other, "not possible: dark")))
	f = handbook([]faulttree.Quantity{exposed(t, volts, faulttree.DeadTest)}, []string{volts})
	p = known(
		kindOf{1, []string{"live-pins@cord"}, map[string]float64{volts: 10}},
		kindOf{300, nil, map[string]float64{volts: 0}})
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, volts, "10 V")), volts)
	limited(f, volts, 9)
	wantNext(t, nexts(t, p, f, faulttree.Owner, Reader{}, read(t, volts, "10 V")))

	// What comes before it still does.
	f = handbook([]faulttree.Quantity{exposed(t, volts, faulttree.DeadTest), exposed(t, neutral, faulttree.DeadTest)}, []string{volts, neutral})
	p = known(
		kindOf{1, []string{"poor-neutral@cord"}, map[string]float64{neutral: 4, volts: 0}},
		kindOf{30, nil, map[string]float64{neutral: 0.1, volts: 0}})
	got = nexts(t, p, f, faulttree.Owner, Reader{}, odd)
	wantNext(t, got, volts)
	if why := got[0].Why(); !strings.HasPrefix(why, "comes before “reading "+neutral+"” once more: one reading carries “poor-neutral” (cord)") {
		t.Errorf("why: %s", why)
	}
}

// The normal density that counts as right has the peak and the curvature of the t
// density: at so many scales from it the ratios of both are those of the tables of
// the two distributions (t of three degrees 0.3675525969, 0.2067483358 at 0 and 1;
// its curvature is that of a normal one of deviation √3/2).
func TestRightIn(t *testing.T) {
	const peak, atOne = 0.3675525969, 0.2067483358
	if got := studentT(0, 1); math.Abs(got-peak) > 1e-9 {
		t.Errorf("the peak is %v", got)
	}
	if got := studentT(1, 1); math.Abs(got-atOne) > 1e-9 {
		t.Errorf("one scale from it the density is %v", got)
	}
	r := newReading(quantity(t, "pedestal.l1-n"), read(t, "pedestal.l1-n", "120 V").Reading, faulttree.DefaultMeter())
	w := piece{wrong: 0, times: 1, reading: &r, column: []float32{120, 130}, density: []float32{float32(r.in(120)), float32(r.in(130))}}
	if got := w.rightIn(0); math.Abs(got-1) > 1e-6 {
		t.Errorf("where it reads just this it is right with %v", got)
	}
	ratio := float64(w.density[1] / w.density[0])
	squared := 3 * (1/math.Sqrt(ratio) - 1) // of scales
	if got, want := w.rightIn(1), math.Exp(-squared/2/0.75)/ratio; math.Abs(got-want) > 1e-6 {
		t.Errorf("10 V from it, it is right with %v, want %v", got, want)
	}
}
