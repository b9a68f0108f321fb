package trial

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// One step down from the 600 V range of a 6000-count meter is the 60 V range,
// whose last digit is 0.01 V; what is smaller is not seen. Direct volts are
// read on the range that fits.
func TestSmallVoltsAreReadOneStepDown(t *testing.T) {
	in := instrument{face: meter.NewFace(faulttree.DefaultMeter()), seed: 1}
	for _, test := range []struct {
		unit  faulttree.Unit
		value float64
		step  faulttree.Amount
	}{
		{faulttree.VoltsAC, 0.0004, faulttree.One / 100},
		{faulttree.VoltsAC, 2.9, faulttree.One / 100},
		{faulttree.VoltsAC, 19, faulttree.One / 100},
		{faulttree.VoltsAC, 120, faulttree.One / 10},
		{faulttree.VoltsDC, 2.9, faulttree.One / 1000},
	} {
		if r := in.show(faulttree.Quantity{ID: "a-b", Unit: test.unit}, test.value); r.Resolution != test.step {
			t.Errorf("%g V of unit %d is read in steps of %v; expected %v", test.value, test.unit, r.Resolution, test.step)
		}
	}
}

// mistaken is a reader whose meter is used wrongly from the start, before a
// fixture's trailer.
func mistaken(t *testing.T, what rig.Mistake) *reader {
	t.Helper()
	f := &rig.Fault{ID: what.String(), Variants: []rig.Variant{{Place: faulttree.MeterOwn, Edits: []rig.Edit{{Kind: rig.Misuse, Mistake: what}}}}}
	return &reader{in: instrument{face: meter.NewFace(faulttree.DefaultMeter()), seed: 1},
		draw: draw{setup: rig.Setup{Faults: []rig.Applied{f.Ordinary(0)}}, misuse: misuse{mistake: what}}}
}

// A display that stands still shows figures for tips that touch nothing.
func TestTheTipsTellHold(t *testing.T) {
	tips := faulttree.Quantity{Proves: faulttree.ProvesOpenTips, Unit: faulttree.Ohms}
	if r, err := mistaken(t, rig.HoldLeftOn).misread(tips); err != nil || r.Quality != faulttree.Steady {
		t.Errorf("hold shows %+v, %v", r, err)
	}
	if r, err := mistaken(t, rig.WrongFunction).misread(tips); err != nil || r.Quality != faulttree.OverRange {
		t.Errorf("another function shows %+v, %v", r, err)
	}
}

// The tips held together tell a meter without a circuit from one on another
// function, which both show nothing of a live source.
func TestTheLeadsTellAnOpenCircuit(t *testing.T) {
	leads := faulttree.Quantity{Proves: faulttree.ProvesLeads, Unit: faulttree.Ohms}
	proof := faulttree.Quantity{Proves: faulttree.ProvesVoltsAC, Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
	for mistake, want := range map[rig.Mistake]faulttree.Quality{
		rig.AmpereJack: faulttree.OverRange, rig.BrokenLead: faulttree.OverRange,
		rig.WrongFunction: faulttree.Steady, rig.WeakBattery: faulttree.Wandering, rig.RangeTooLow: faulttree.Steady,
	} {
		if r, err := mistaken(t, mistake).misread(leads); err != nil || r.Quality != want {
			t.Errorf("mistake %d shows %+v, %v; expected quality %d", mistake, r, err, want)
		}
	}
	for _, mistake := range []rig.Mistake{rig.AmpereJack, rig.BrokenLead, rig.WrongFunction} {
		if r, err := mistaken(t, mistake).misread(proof); err != nil || r.Quality != faulttree.Steady || r.High > faulttree.One/10 {
			t.Errorf("mistake %d shows %+v of a live source, %v", mistake, r, err)
		}
	}
}

// A walk proves its meter on line voltage or, on the 12 V side, on a battery.
func TestTheMeterIsProvedOnABatteryToo(t *testing.T) {
	for proves, want := range map[faulttree.Proof]int{faulttree.ProvesVoltsAC: 1, faulttree.ProvesVoltsDC: 1, faulttree.ProvesLeads: 0, 0: 0} {
		q := faulttree.Quantity{ID: "q", Proves: proves, Unit: faulttree.VoltsDC, Range: 60 * faulttree.One, Most: 100 * faulttree.One}
		to := faulttree.Exit{To: faulttree.Ref{Tree: "weak", Step: "end"}}
		weak := &faulttree.Tree{ID: "weak", Start: "proof", Steps: []*faulttree.Step{
			{Tree: "weak", ID: "proof", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: q}},
				Branches: []faulttree.Branch{{Exit: to}}, OverRange: to, NotPossible: to},
			{Tree: "weak", ID: "end", Kind: faulttree.KindFinding},
		}}
		weak.Index()
		forest := &faulttree.Forest{Quantities: faulttree.Quantities{q.ID: q}, Trees: map[string]*faulttree.Tree{"weak": weak}}
		w, err := faulttree.Begin(forest, faulttree.Ref{Tree: "weak"}, faulttree.Owner, faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		if n := proved(w); n != 0 {
			t.Errorf("proves %q: proved %d times before a reading", proves, n)
		}
		reading := must.Have(faulttree.ParseReading("12.6 V", q))(t)
		if w, err = w.Answer(faulttree.Answer{Readings: []faulttree.Reading{reading}}); err != nil {
			t.Fatal(err)
		}
		if n := proved(w); n != want {
			t.Errorf("proves %q: proved %d times; want %d", proves, n, want)
		}
	}
}
