package trial

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
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

// A display that stands still shows figures for tips that touch nothing.
func TestTheTipsTellHold(t *testing.T) {
	tips := faulttree.Quantity{ID: faulttree.MeterTips, Unit: faulttree.Ohms, Red: "meter.tips"}
	in := instrument{face: meter.NewFace(faulttree.DefaultMeter()), seed: 1}
	if r := in.misread(misuse{mistake: rig.HoldLeftOn}, tips, overRange()); r.Quality != faulttree.Steady {
		t.Errorf("hold shows %+v", r)
	}
	if r := in.misread(misuse{mistake: rig.WrongFunction}, tips, overRange()); r.Quality != faulttree.OverRange {
		t.Errorf("another function shows %+v", r)
	}
}

// The tips held together tell a meter without a circuit from one on another
// function, which both show nothing of a live source.
func TestTheLeadsTellAnOpenCircuit(t *testing.T) {
	leads := faulttree.Quantity{ID: faulttree.MeterLeads, Unit: faulttree.Ohms, Red: "meter.leads"}
	in := instrument{face: meter.NewFace(faulttree.DefaultMeter()), seed: 1}
	right := in.show(leads, leadOhms)
	for mistake, want := range map[rig.Mistake]faulttree.Quality{
		rig.AmpereJack: faulttree.OverRange, rig.BrokenLead: faulttree.OverRange,
		rig.WrongFunction: faulttree.Steady, rig.WeakBattery: faulttree.Steady, rig.RangeTooLow: faulttree.Steady,
	} {
		if r := in.misread(misuse{mistake: mistake}, leads, right); r.Quality != want {
			t.Errorf("mistake %d shows %+v; expected quality %d", mistake, r, want)
		}
	}
}
