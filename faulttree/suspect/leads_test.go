package suspect

import (
	"testing"

	"faultwright/faulttree"
)

// What leads add that nobody nulled is in every reading of ohms, so one that shows none
// says that the others show none of it either: 1.5 Ω of a cord's neutral beside 0.0 Ω of
// its ground by the same leads is a bad contact. Beside 0.6 Ω, by leads that may add that,
// or by another's leads, it may be a sound one.
func TestLeadsAddToEveryReading(t *testing.T) {
	neutral, ground := "ohm:plug.n-cord.n@unplugged", "ohm:plug.g-cord.g@unplugged"
	p := known(
		kindOf{1, []string{"poor-neutral@cord"}, map[string]float64{neutral: 1.5, ground: 0.05}},
		kindOf{30, nil, map[string]float64{neutral: 0.05, ground: 0.05}})
	share := func(evidence ...Evidence) float64 {
		for _, s := range believe(t, New(p, faulttree.DefaultMeter(), toyFaults), evidence...).Suspects() {
			if s.Faults[0] == "poor-neutral" {
				return s.Share
			}
		}
		return 0
	}
	shown, none, some := read(t, neutral, "1.5 Ω"), read(t, ground, "0.0 Ω"), read(t, ground, "0.6 Ω")
	told := none
	told.Told = true
	if got := share(shown, none); got < 0.9 {
		t.Errorf("beside 0.0 Ω the bad contact has %.2f; expected more than nine tenths", got)
	}
	for _, other := range []Evidence{some, told} {
		if got := share(shown, other); got > 0.7 {
			t.Errorf("beside %s, told %v, the bad contact has %.2f; expected no more than seven tenths", other.Reading.Show(faulttree.Ohms), other.Told, got)
		}
	}
}

// Ohms from one place to another, which no tree asks, come after volts at the point
// that may be live: across a pole that is closed there are none, live or not.
func TestOhmsAcrossAPoleComeAfterVolts(t *testing.T) {
	volts, ohms := "cord.l1-n@unplugged", "ohm:cord.l1-panel.l1@unplugged"
	f := handbook([]faulttree.Quantity{exposed(t, volts, faulttree.DeadTest), exposed(t, ohms, faulttree.DeadTest)})
	p := known(
		kindOf{1, []string{"poor-lug@vehicle"}, map[string]float64{volts: 0, ohms: 3}},
		kindOf{3, nil, map[string]float64{volts: 0, ohms: 0.1}})
	got := nexts(t, p, f, faulttree.Qualified, Reader{})
	wantNext(t, got, volts)
	if got[0].For == nil || got[0].For.ID != ohms {
		t.Errorf("it is read for %+v", got[0].For)
	}
	wantNext(t, nexts(t, p, f, faulttree.Qualified, Reader{}, read(t, volts, "0 V")), ohms)
}
