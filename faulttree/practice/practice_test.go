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
func TestFindsAnOpenGround(t *testing.T) {
	c := with(t, "open-ground")
	l := stand(t, c)
	l.do(practice.Act{Kind: practice.Prove})
	body := l.read("body", "earth")
	if volts := body.Reading().Low; volts < 50*faulttree.One || volts > 62*faulttree.One {
		t.Errorf("the body reads %s; expected about half of 120 V", body.Shown)
	}
	r, err := c.Review(l.a.Name("open-ground"), book())
	if err != nil {
		t.Fatal(err)
	}
	if !r.Right || r.Count != 2 || !r.Proved {
		t.Errorf("right %v, %d readings, proved %v", r.Right, r.Count, r.Proved)
	}
	if !r.Way.Found || r.Way.Readings != 1 || !r.Way.Names || r.Way.Finding.Step != "live" {
		t.Errorf("the tree's way is %+v", r.Way)
	}
	if first := r.Suspects[0]; first.Fault != "open-ground" || first.Fitted != 2 {
		t.Errorf("the truth explains %d of 2 readings: %+v", first.Fitted, first)
	}
	short, _ := r.Shortlist(3)
	if sound := short[1]; sound.Fault != practice.NoFault || sound.Fits[1] || !sound.Fits[0] {
		t.Errorf("a sound vehicle is %+v; it explains the proof and not the body", sound)
	}
	for _, s := range r.Suspects {
		if s.Fault == "not-here" {
			t.Error("a fault that the rig cannot have is a suspect")
		}
	}
	if r, _ := c.Review(l.a.Name("supply-dead"), book()); r.Right {
		t.Error("a wrong name is right")
	}
}

func TestSuspectsTakeTheSeverityThatComesNearest(t *testing.T) {
	c := with(t, "high-resistance-neutral")
	c.Faults[0].Severity = 1.7
	if err := c.SetLoad("l1", 1500); err != nil {
		t.Fatal(err)
	}
	l := stand(t, c)
	l.read("panel.l1", "panel.n")
	l.read("panel.n", "panel.g")
	r, err := c.Review(l.a, book())
	if err != nil {
		t.Fatal(err)
	}
	if s := r.Suspects[0]; s.Fault != "high-resistance-neutral" || s.Fitted != 2 {
		t.Errorf("%+v", s)
	}
	for _, s := range r.Suspects[1:] {
		if s.Fitted == 2 {
			t.Errorf("%s explains the readings of a loose neutral too: %v", s.Fault, s.Shows)
		}
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
// would give, and the review knows the meter as a suspect.
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
	r, err := held.Review(l.a.Name("meter-hold"), book())
	if err != nil {
		t.Fatal(err)
	}
	if !r.Right || !slices.Equal(r.Truth, []string{"supply-dead", "meter-hold"}) || r.HeldOn != 2 {
		t.Errorf("%+v", r)
	}
	broken := with(t, "meter-weak")
	l = stand(t, broken)
	l.do(practice.Act{Kind: practice.Prove})
	if a := l.read("body", "earth"); a.Reading().High != 0 {
		t.Errorf("a broken lead reads %q", a.Shown)
	}
	r, err = broken.Review(l.a.Name(practice.NoFault), book())
	if err != nil {
		t.Fatal(err)
	}
	if r.Right || r.Suspects[0].Fault != "meter-weak" || r.Suspects[1].Fitted == 2 {
		t.Errorf("%+v", r.Suspects[:2])
	}
}
