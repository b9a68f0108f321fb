package practice_test

import (
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
)

// Half of line on the body of a 30 A vehicle whose ground is lost, by two equal
// filters: circuit arithmetic, less what the meter and the tyres draw.
func TestAnOpenGroundStandsAtHalfOfLine(t *testing.T) {
	c := with(t, "open-ground")
	l := stand(t, c)
	l.do(practice.Act{Kind: practice.Prove})
	body := l.read("body", "earth")
	if volts := body.Reading().Low; volts < 50*faulttree.One || volts > 62*faulttree.One {
		t.Errorf("the body reads %s; expected about half of 120 V", body.Shown)
	}
}

func TestPlugHidesContacts(t *testing.T) {
	l := stand(t, with(t))
	if a := l.read("pedestal.l1", "pedestal.n"); a.Kind != practice.Reject || a.Note == "" {
		t.Errorf("contacts under a plug were read: %+v", a)
	}
	l.throw("pedestal", false)
	l.throw("plug", false)
	l.throw("pedestal", true)
	if a := l.read("pedestal.l1", "pedestal.n"); a.Shown != "120.0 V" {
		t.Errorf("the pedestal reads %q; expected 120.0 V of a source without load", a.Shown)
	}
	if a := l.read("plug.l1", "plug.n"); a.Shown == "" || a.Reading().Low != 0 {
		t.Errorf("the pulled plug reads %q", a.Shown)
	}
	if n := len(l.a.Readings()); n != 2 {
		t.Errorf("%d readings, want 2: what was refused is none", n)
	}
	if _, err := l.v.Do(practice.Act{Kind: practice.Throw, Name: "generator"}); err == nil {
		t.Error("a switch was thrown that the case does not allow")
	}
}

// The mistakes of the meter: the learner sees the same display as a real one
// would give.
func TestMeterMistakes(t *testing.T) {
	held := with(t, "supply-dead", "meter-hold")
	l := stand(t, held)
	l.do(practice.Act{Kind: practice.Prove})
	if a := l.read("panel.l1", "panel.n"); a.Shown != "120.0 V" {
		t.Errorf("with the hold on, a dead panel reads %q; expected what stood there before", a.Shown)
	}
	l.dial(func(s *meter.Setting) { s.Hold = false })
	if a := l.read("panel.l1", "panel.n"); a.Reading().Low != 0 {
		t.Errorf("with the hold off, it reads %q", a.Shown)
	}
	if truth := held.Truth(); !slices.Equal(truth, []string{"supply-dead", "meter-hold"}) {
		t.Errorf("to be found is %v", truth)
	}
	broken := with(t, "meter-weak")
	l = stand(t, broken)
	l.do(practice.Act{Kind: practice.Prove})
	if a := l.read("body", "earth"); a.Reading().High != 0 {
		t.Errorf("a broken lead reads %q", a.Shown)
	}
}
