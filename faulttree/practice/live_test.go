package practice_test

import (
	"errors"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
)

// trainee is a trainee's attempt at a case.
func trainee(c practice.Case) practice.Attempt {
	return practice.Attempt{Case: c.ID, Role: faulttree.Qualified, Supervised: true, Meter: faulttree.DefaultMeter(), Rules: practice.Rules}
}

// A trainee is asked, once for each act, before everything that may be live, and the plug
// makes the difference, not what is hidden. Somebody qualified is asked nothing more than
// before.
func TestATraineeIsAskedBeforeEverythingLive(t *testing.T) {
	const beside = "Live: is a qualified person beside you?"
	read := func(red, black string) practice.Act {
		return practice.Act{Kind: practice.Read, Red: red, Black: black}
	}
	throw := func(name string, on bool) practice.Act {
		return practice.Act{Kind: practice.Throw, Name: name, On: on}
	}
	for _, hidden := range [][]string{nil, {"open-ground"}, {"supply-dead"}, {"hot-ground-swapped"}} {
		c := with(t, hidden...)
		learner := must.Have(c.BeginAs(trainee(c)))(t)
		qualified := trainee(c)
		qualified.Supervised = false
		other := must.Have(c.BeginAs(qualified))(t)
		want := func(a practice.Act, question string) {
			t.Helper()
			if got, asks := learner.Asks(a); got != question || asks != (question != "") {
				t.Errorf("%v: %s %s %s is asked %q; want %q", hidden, a.Kind, a.Name, a.Red, got, question)
			}
			if got, _ := other.Asks(a); got != strings.TrimSuffix(strings.TrimSuffix(question, beside), " ") {
				t.Errorf("%v: somebody qualified is asked %q", hidden, got)
			}
			if _, err := learner.Do(a); question != "" && !errors.Is(err, practice.ErrNotAsked) {
				t.Errorf("%v: %s %s %s is booked unasked: %v", hidden, a.Kind, a.Name, a.Red, err)
			}
		}
		do := func(a practice.Act) {
			t.Helper()
			a.Asked = true
			for _, v := range []*practice.Learner{learner, other} {
				done := must.Have(v.Do(a))(t)
				if last := done[len(done)-1]; last.Kind == practice.Reject {
					t.Fatalf("%v: %+v", hidden, last)
				}
			}
		}
		want(prove, beside)
		want(read("body", "earth"), beside)
		want(read("panel.l1", "panel.n"), "Up the step, a hand on the body? "+beside)
		want(practice.Act{Kind: practice.Load, Name: "l1", On: true}, "Up the step, a hand on the body, then turn on the loads on L1? "+beside)
		want(throw("pedestal", false), "Turn off the pedestal's breaker?")
		want(throw("plug", false), "Pull out the plug in the pedestal?")
		do(throw("plug", false))
		want(read("body", "earth"), "")
		want(read("plug.l1", "plug.n"), "")
		want(read("panel.l1", "panel.n"), "Up the step, a hand on the body?")
		want(read("pedestal.l1", "pedestal.n"), beside)
		want(practice.Act{Kind: practice.Swap, Name: "another-cord", On: true}, "Another cord?")
		do(throw("pedestal", false))
		want(throw("pedestal", true), "Turn on the pedestal's breaker? "+beside)
		want(throw("plug", true), "Push in the plug in the pedestal? "+beside)
		do(throw("main", false))
		want(throw("main", true), "Turn on the main breaker?")
	}
}

// What was confirmed stands in the attempt, and one that lacks it does not verify: by a
// trainee's, and by nobody else's.
func TestATraineesAttemptVerifies(t *testing.T) {
	c := with(t)
	a := trainee(c)
	v := must.Have(c.BeginAs(a))(t)
	for _, act := range []practice.Act{prove, {Kind: practice.Read, Red: "body", Black: "earth"}, {Kind: practice.Throw, Name: "plug"}, {Kind: practice.Read, Red: "plug.l1", Black: "plug.n"}} {
		act.Asked = true
		a = a.With(must.Have(v.Do(act))(t)...)
	}
	if asked := []bool{a.Acts[0].Asked, a.Acts[1].Asked, a.Acts[2].Asked, a.Acts[3].Asked}; !slices.Equal(asked, []bool{true, true, true, false}) {
		t.Errorf("asked: %v", asked)
	}
	if _, differs, err := c.Verify(a); differs != nil || err != nil {
		t.Errorf("%v, %v", differs, err)
	}
	a.Acts[1].Asked = false
	if _, differs, err := c.Verify(a); differs == nil || differs.Act != 1 || err != nil {
		t.Errorf("a live reading unasked: %v, %v", differs, err)
	}
	a.Supervised = false
	if _, differs, err := c.Verify(a); differs != nil || err != nil {
		t.Errorf("by somebody qualified: %v, %v", differs, err)
	}
}

// The proof of the meter on a battery is not live, the one on a supply is, whatever the dial
// says of ohms.
func TestTheProofOnABatteryIsNotLive(t *testing.T) {
	c := with(t)
	v := must.Have(c.BeginAs(trainee(c)))(t)
	for f, want := range map[meter.Function]bool{meter.VoltsDC: false, meter.VoltsAC: true, meter.LowZ: true, meter.Ohms: true} {
		v.Set(meter.Setting{Function: f})
		if question, asks := v.Asks(practice.Act{Kind: practice.Prove}); asks != want {
			t.Errorf("with the dial on %v it is asked %q", f, question)
		}
	}
}

// The names of roles are read back, and of a wrong one the nearest is told.
func TestRoleNames(t *testing.T) {
	for _, name := range practice.RoleNames() {
		r, supervised, err := practice.ParseRole(name)
		if got := practice.RoleName(r, supervised); got != name || err != nil {
			t.Errorf("%s comes back as %s, %v", name, got, err)
		}
	}
	for name, want := range map[string]string{
		"trainy": `there is no role "trainy"; did you mean trainee?`, "Owner": `there is no role "Owner"; did you mean owner?`,
		"": `there is no role ""; expected one of owner, trainee, qualified`,
	} {
		if _, _, err := practice.ParseRole(name); err == nil || err.Error() != want {
			t.Errorf("%q: %v; want %s", name, err, want)
		}
	}
}
