package practice_test

import (
	"encoding/json"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// overloaded is the trailer with 6000 W on its heater, 50 A behind a breaker of 40 A,
// and its learner inside; the heater is off.
func overloaded(t *testing.T, may ...string) (*learner, practice.Case) {
	t.Helper()
	c := with(t)
	c.May = may
	must.Do(t, c.SetLoad("l1", 6000))
	c.Loads["l1"] = false
	l := stand(t, c)
	l.do(goIn)
	return l, c
}

var (
	loadOff = practice.Act{Kind: practice.Load, Name: "l1"}
	reset   = practice.Act{Kind: practice.Reset, Name: "breaker"}
)

func (l *learner) wantOpen(when string, want ...string) {
	l.t.Helper()
	if got := must.Have(l.v.Tripped())(l.t); !slices.Equal(got, want) {
		l.t.Errorf("%s: tripped are %v; want %v", when, got, want)
	}
	shown := l.read("panel.l1", "panel.n").Reading()
	if dead := shown.High < faulttree.One; dead != (len(want) > 0) {
		l.t.Errorf("%s: the panel reads %v", when, shown)
	}
}

func (l *learner) wantVerified(c practice.Case) {
	l.t.Helper()
	sent := must.Have(practice.Decode(must.Have(json.Marshal(l.a))(l.t)))(l.t)
	if _, differs, err := c.Verify(sent); differs != nil || err != nil {
		l.t.Error(differs, err)
	}
}

// A breaker that has tripped stays open when its cause is gone, until its handle is put
// off and on again; on a cause that is still there it trips again, and that is told.
// Common practice of every breaker; see the card of the handbook on breakers.
func TestWhatTrippedStaysOpenUntilItsSwitchResetsIt(t *testing.T) {
	l, c := overloaded(t, "pedestal", "plug", "main")
	l.do(load)
	l.wantOpen("the load on", "breaker")
	l.do(loadOff)
	l.wantOpen("the load off", "breaker")
	l.throw("plug", false)
	l.throw("plug", true)
	l.wantOpen("plugged in again", "breaker")
	if a := l.do(practice.Act{Kind: practice.Throw, Name: "pedestal", On: true}); a.Kind != practice.Reject || !strings.Contains(a.Note, "off first") {
		t.Errorf("a tripped breaker is turned on: %+v", a)
	}
	if a := l.do(reset); a.Kind != practice.Reject || !strings.Contains(a.Note, "and then on") || len(l.v.Resets()) > 0 {
		t.Errorf("a breaker with a handle is reset without it: %+v, %v", a, l.v.Resets())
	}
	l.throw("pedestal", false)
	l.throw("pedestal", true)
	l.wantOpen("reset")
	l.do(load)
	l.throw("pedestal", false)
	if a := l.do(practice.Act{Kind: practice.Throw, Name: "pedestal", On: true}); !slices.Equal(a.Trips, []string{"breaker"}) {
		t.Errorf("reset under the load it trips %v", a.Trips)
	}
	l.wantVerified(c)
}

// One without a switch that may be thrown is reset by an act of its own, which is asked.
func TestResetIsAnAct(t *testing.T) {
	l, c := overloaded(t, "plug", "main")
	if a := l.do(reset); a.Note != "It had not tripped." || len(l.v.Resets()) > 0 {
		t.Errorf("what has not tripped is reset: %+v, and %v can be", a, l.v.Resets())
	}
	l.do(load)
	if a := l.do(reset); !slices.Equal(a.Trips, []string{"breaker"}) {
		t.Errorf("reset on a live cause it trips %v", a.Trips)
	}
	l.do(loadOff)
	l.wantOpen("the load off", "breaker")
	if _, err := l.v.Do(reset); err == nil || !slices.Equal(l.v.Resets(), []string{"breaker"}) {
		t.Errorf("it is reset unasked (%v), and %v can be reset", err, l.v.Resets())
	}
	if question, _ := l.v.Asks(reset); !strings.Contains(question, "Have the 30 A breaker reset") {
		t.Errorf("it asks %q", question)
	}
	if a := l.do(reset); a.Trips != nil {
		t.Errorf("reset with the cause gone it trips %v", a.Trips)
	}
	l.wantOpen("reset")
	if _, err := l.v.Do(practice.Act{Kind: practice.Reset, Name: "tap.l1", Asked: true}); err == nil {
		t.Error("a conductor is reset")
	}
	l.wantVerified(c)
}

// A slip that is taken back closes nothing that it made trip, and one that reset
// something leaves it as it was.
func TestASlipClosesNothing(t *testing.T) {
	back := practice.Act{Kind: practice.TakeBack}
	l, c := overloaded(t, "plug", "main")
	l.do(load)
	l.do(back)
	l.wantOpen("a load by a slip", "breaker")
	l.do(reset)
	l.do(back)
	l.wantOpen("a reset by a slip", "breaker")
	l.wantVerified(c)
}

// After the repair what has tripped stands open still, until somebody resets it.
func TestWhatTrippedIsResetAfterTheRepair(t *testing.T) {
	short := fault("short", rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "panel.n"}, Ohms: rig.EditValue{Fixed: 1}})
	c := with(t)
	c.Faults = []rig.Applied{{Fault: short}}
	l := stand(t, c)
	l.wantOpen("as it was brought", "breaker")
	done := practice.Conclusion{Faults: []string{"short"}}
	l.a = l.a.Conclude(done)
	l.a.Repaired = len(l.a.Acts)
	must.Do(t, l.v.Repair(done))
	l.wantOpen("repaired", "breaker")
	l.throw("pedestal", false)
	l.throw("pedestal", true)
	l.wantOpen("reset")
	l.wantVerified(c)
}

// An attempt that was kept before goes on and verifies by the rules of its time, by which
// what has tripped closed by itself; one by rules that come later is not called edited.
func TestOlderAttemptsVerifyByTheirRules(t *testing.T) {
	c := with(t)
	must.Do(t, c.SetLoad("l1", 6000))
	c.Loads["l1"] = false
	old := []byte(`{"case":"case","role":"owner","meter":` + string(must.Have(json.Marshal(faulttree.DefaultMeter()))(t)) + `,"acts":[
		{"kind":"in","asked":true},
		{"kind":"load","name":"l1","on":true,"asked":true,"trips":["breaker"]},
		{"kind":"load","name":"l1","asked":true},
		{"kind":"read","red":"panel.l1","black":"panel.n","setting":{"function":"ac-volts"},"shown":"120.0 V"}]}`)
	a := must.Have(practice.Decode(old))(t)
	verified, differs, err := c.Verify(a)
	if differs != nil || err != nil || verified.Rules != 0 {
		t.Error(differs, err, verified.Rules)
	}
	a.Rules = practice.Rules
	if _, differs, _ := c.Verify(a); differs == nil || differs.Act != 3 {
		t.Errorf("by the rules of now it differs in %v", differs)
	}
	a.Rules = practice.Rules + 1
	if _, differs, err := c.Verify(a); differs != nil || err == nil || !strings.Contains(err.Error(), "later") {
		t.Errorf("by later rules it differs in %v, %v", differs, err)
	}
}
