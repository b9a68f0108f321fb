package why_test

import (
	"math"
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/why"
)

// Two loads across 240 V whose neutral is open: closed form, any textbook of
// circuits (voltages of impedances in series).
func TestOpenNeutralDividesTheVoltage(t *testing.T) {
	const v = 120 * 120.0
	for _, c := range []struct {
		watts, factor [2]float64
		volts         [2]float64
		amps          float64
		says          [2]string
	}{
		{[2]float64{v / 12, v / 24}, [2]float64{1, 1}, [2]float64{80, 160}, 240.0 / 36, [2]string{"they share 240 V as 80 V and 160 V", "they share 240 V as 160 V and 80 V"}},
		{[2]float64{v / 12, v / 10 * 0.8}, [2]float64{1, 0.8}, [2]float64{137.926985, 114.939154}, 137.926985 / 12, [2]string{"138 V over the one and 115 V over the other", "115 V over the one and 138 V over the other"}}, // 12 Ω and 8 + 6j Ω
		{[2]float64{100, 200}, [2]float64{1, 1}, [2]float64{160, 80}, 1.111, [2]string{"they share 240 V as 160 V and 80 V", "they share 240 V as 80 V and 160 V"}},
	} {
		m := ideal()
		m.load("l1", c.watts[0], c.factor[0])
		m.load("l2", c.watts[1], c.factor[1])
		for leg, hot := range []string{"panel.l1", "panel.l2"} {
			a := explain(t, m, volts(hot, "panel.n", faulttree.Loaded), fault(open("cord.n")))
			if math.Abs(a.Faulty.Number-c.volts[leg]) > 1e-3 || math.Abs(a.Sound.Number-120) > 1e-3 { // the meter's 10 MΩ
				t.Errorf("%s to neutral reads %v instead of %v, want %v instead of 120", hot, a.Faulty, a.Sound, c.volts[leg])
			}
			if a.Changed.Part != "cord.n" {
				t.Errorf("the part that makes the difference is %+v, want the cord's neutral", a.Changed)
			}
			wantText(t, a, "The neutral of the cord is open: the .*A that it carries in a sound vehicle cannot pass.", "through the loads on L. go on through the loads on L.", c.says[leg])
			if got := largest(a); math.Abs(got-c.amps) > 1e-3 {
				t.Errorf("%v A meet at the neutral, want %v", got, c.amps)
			}
		}
	}
}

func largest(a why.Answer) float64 {
	most := 0.0
	if a.Balance != nil {
		for _, w := range a.Balance.Ways {
			most = max(most, cmplx.Abs(w.Amps))
		}
	}
	return most
}

// A body that has lost its ground, 120 V on it through 50 kΩ, on 100 kΩ to the soil,
// with the meter beside: closed form, a divider. 80 V without a meter, 79.734 V with
// one of 10 MΩ, 6.606 V with one of 3 kΩ.
func TestLostGroundWithALeak(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	both := []rig.Applied{fault(open("bond")), fault(joined("panel.l1", "body", 50e3))}
	a := explain(t, m, volts("body", "earth"), both...)
	if math.Abs(a.Faulty.Number-79.734) > 5e-4 || a.Sound.Number > 1e-6 {
		t.Errorf("the body reads %v instead of %v, want 79.734 V instead of 0", a.Faulty, a.Sound)
	}
	wantText(t, a, "the path of 50 kΩ from L1 to the body|The bond of the body is open", "805 µA", "tyres and jacks to soil", "40.3 V and 79.7 V")
	a = explain(t, m, volts("body", "earth", faulttree.LowZ), both...)
	if math.Abs(a.Faulty.Number-6.606) > 5e-4 {
		t.Errorf("with 3 kΩ the body reads %v, want 6.606 V", a.Faulty)
	}
	wantText(t, a, "through the meter")
}

// A poor neutral leaves its own volts, current times ohms, and no more: 12 Ω on one
// leg alone through 3 Ω is 8 A, 24 V and 96 V.
func TestPoorNeutral(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	poor := rig.Edit{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Fixed: 3}}
	a := explain(t, m, volts("panel.l1", "panel.n", faulttree.Loaded), fault(poor))
	if math.Abs(a.Faulty.Number-96) > 1e-4 {
		t.Errorf("the leg reads %v, want 96 V", a.Faulty)
	}
	wantText(t, a, "^The neutral of the cord has 3 Ω more, and the 8 A through it lose 24 V. They come through the loads on L1, so that they share 120 V as 96 V and 24 V.$")
}

// A part of a fault that a reading does not see is not made out to change it, and
// what is no difference is not said to be one.
func TestWithoutADifference(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	a := explain(t, m, volts("site.l1", "site.n"), fault(open("cord.n")))
	wantText(t, a, "^For this reading the neutral of the cord makes no difference: 120 V with the fault and without.")
	if a := explain(t, m, volts("site.l1", "site.n")); len(a.Text) != 0 || a.Faulty != a.Sound {
		t.Errorf("a sound vehicle is explained: %+v", a)
	}
	if a := explain(t, m, volts("nowhere", "site.n"), fault(open("cord.n"))); len(a.Text) != 0 || a.Faulty.There {
		t.Errorf("a reading that cannot be taken is explained: %+v", a)
	}
}

// Of the edits of a fault the one that the reading sees is named: the join for ohms
// between neutral and ground, the break for ohms along the wire.
func TestTheDecisivePart(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	m.Switches = []rig.Switch{{Name: "supply", Off: true}}
	for i := range m.Parts {
		if m.Parts[i].Kind == rig.Source {
			m.Parts[i].Switch = "supply"
		}
	}
	both := fault(open("cord.n"), joined("panel.l1", "body", 1000))
	ohms := volts("panel.l1", "panel.g")
	ohms.Unit = faulttree.Ohms
	a := explain(t, m, ohms, both)
	if a.Changed.Edit != 1 || math.Abs(a.Faulty.Number-1000) > 1e-6 {
		t.Errorf("L1 to ground reads %v for %+v, want 1 kΩ for the join", a.Faulty, a.Changed)
	}
	wantText(t, a, "1 kΩ instead of 12 Ω|The path of 1 kΩ from L1 to the body")
	ohms.Red, ohms.Black = "site.n", "panel.n"
	a = explain(t, m, ohms, both)
	if a.Changed.Part != "cord.n" {
		t.Errorf("along the neutral %+v makes the difference, want the break", a.Changed)
	}
	wantText(t, a, "passes through the neutral of the cord, which is open here", "1.01 kΩ|join|path")
}

// A clamp: the current that it reads comes back, and by which way is said.
func TestClamp(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	clamp := faulttree.Quantity{ID: "amp:panel.g", Title: "ground", Unit: faulttree.AmpsAC, Red: "panel.g"}
	a := explain(t, m, clamp, fault(joined("panel.l1", "body", 1200)))
	if math.Abs(a.Faulty.Number-0.1) > 1e-6 {
		t.Errorf("the ground carries %v, want 0.1 A", a.Faulty)
	}
	wantText(t, a, "100 mA flow through the path of 1.2 kΩ from L1 to the body. They come back through L1 of the supply.")
}

// Readings made by the model itself, with 8 Ω in the neutral, 600 W and 1800 W, are met
// again from where the same leg is the high one; one of them that is wrong does not draw the others away.
func TestFit(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	m.load("l2", 1200, 1)
	for i := range m.Params {
		if m.Params[i].Unit == rig.Watts {
			m.Params[i].From, m.Params[i].To = 100, 2400
		}
	}
	poor := fault(rig.Edit{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Severity: true, Factor: 1}})
	poor.Fault.Severity = &rig.Param{Unit: rig.Ohms, Value: 1, From: 0.3, To: 100, Log: true}
	legs := []faulttree.Quantity{volts("panel.l1", "panel.n", faulttree.Loaded), volts("panel.l2", "panel.n", faulttree.Loaded),
		volts("panel.n", "panel.g", faulttree.Loaded), {ID: "clamp", Unit: faulttree.AmpsAC, Red: "panel.n", Conditions: []faulttree.Condition{faulttree.Loaded}}}
	setup := func(severity, one, two float64) rig.Setup {
		s := rig.Setup{Values: m.Values(), Faults: []rig.Applied{poor}}
		s.Faults[0].Severity = severity
		s.Values[m.Parts[slices.IndexFunc(m.Parts, func(p rig.Part) bool { return p.Name == "load-l1" })].Params[rig.AttrWatts]] = one
		s.Values[m.Parts[slices.IndexFunc(m.Parts, func(p rig.Part) bool { return p.Name == "load-l2" })].Params[rig.AttrWatts]] = two
		return s
	}
	for _, wrong := range []bool{false, true} {
		var read []why.Reading
		for _, q := range legs {
			a := must.Have(why.Of(m.Rig, setup(8, 600, 1800), q, faulttree.DefaultMeter()))(t)
			v := faulttree.Amount(a.Faulty.Number * float64(faulttree.One))
			read = append(read, why.Reading{Quantity: q, Reading: faulttree.Reading{Low: v, High: v}})
		}
		most := 0.05
		if wrong {
			read = append(read, why.Reading{Quantity: volts("panel.l1", "panel.l2", faulttree.Loaded), Reading: faulttree.Reading{}})
			most += 9 // the one that does not fit at all
		}
		fitted, off, err := why.Fit(m.Rig, setup(2, 900, 1300), read)
		if err != nil || off > most {
			t.Errorf("it stays %v from the readings, want at most %v: %v", off, most, err)
		}
		if s := fitted.Faults[0].Severity; s < 7 || s > 9 {
			t.Errorf("the neutral is fitted with %v Ω, want 8 Ω", s)
		}
	}
}

// Ohms across a live pair are no reading, and it is said that the pair is live.
func TestOhmsOnALivePair(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	m.ohms("standby", "the standby", rig.Resistance, "far.l1", "far.n", 1000)
	ohms := volts("far.l1", "far.n")
	ohms.Unit = faulttree.Ohms
	a := explain(t, m, ohms, fault(joined("panel.l1", "far.l1", 0.1), joined("panel.n", "far.n", 0.1)))
	if !a.Faulty.Live || a.Faulty.There || math.Abs(a.Sound.Number-1000) > 1e-6 {
		t.Errorf("a live pair reads %+v instead of %+v", a.Faulty, a.Sound)
	}
	wantText(t, a, "The probes have a voltage with it: no ohms are read there.")
}

// A short opens the breaker of both legs: what is dead beyond it is the leg that the
// probe is on.
func TestATrippedBreaker(t *testing.T) {
	m := ideal()
	m.load("l1", 1200, 1)
	m.load("l2", 1200, 1)
	for i := range m.Parts {
		if p := &m.Parts[i]; p.Run == "cord" && (p.Wire == "l1" || p.Wire == "l2") {
			p.Kind, p.Title = rig.Breaker, "the breaker, "+strings.ToUpper(p.Wire)
			p.Params[rig.AttrOhms], p.Params[rig.AttrTrip] = m.number(rig.Ohms, 0.01), m.number(rig.Amperes, 50)
		}
	}
	short := fault(joined("panel.l2", "body", 0.1))
	for _, leg := range []string{"l1", "l2"} {
		a := explain(t, m, volts("panel."+leg, "panel.n"), short)
		wantText(t, a, "^The join of L2 and the body draws so much that the breaker opens. No current to speak of reaches "+strings.ToUpper(leg)+" beyond it, and the probes have 0 V.$")
	}
}
