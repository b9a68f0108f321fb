package practice_test

import (
	"encoding/json"
	"errors"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

var (
	load  = practice.Act{Kind: practice.Load, Name: "l1", On: true}
	goIn  = practice.Act{Kind: practice.GoIn}
	goOut = practice.Act{Kind: practice.GoOut}
	slip  = practice.Act{Kind: practice.TakeBack}
	fuse  = practice.Act{Kind: practice.ChangeFuse}
	prove = practice.Act{Kind: practice.Prove}
)

func kinds(acts []practice.Act) string {
	out := lists.Each(acts, func(a practice.Act) string { return a.Kind.String() })
	return strings.Join(out, " ")
}

// The one fuse of a meter's ampere jack, once blown, leaves its current ranges
// dead until it is changed: common practice. The voltage jack has none.
func TestABlownFuseStaysBlown(t *testing.T) {
	l := stand(t, with(t))
	l.do(load)
	amperes := func() practice.Act {
		l.dial(func(s *meter.Setting) { s.Function, s.Jack = meter.AmpsAC, meter.VoltJack })
		return l.read("panel.l1", "")
	}
	if a := amperes(); a.Shown != "9.84 A" && a.Reading().Low < 9*faulttree.One {
		t.Fatalf("1200 W at 120 V draw %q", a.Shown)
	}
	l.dial(func(s *meter.Setting) { s.Function, s.Jack = meter.VoltsAC, meter.AmpereJack })
	if a := l.read("panel.l1", "panel.n"); !a.Hazard || a.Shown != "" || a.Numeric() {
		t.Fatalf("through the ampere jack: %+v", a)
	}
	if a := l.read("panel.l1", "panel.n"); a.Hazard || a.Reading().High != 0 {
		t.Errorf("through the ampere jack, its fuse blown: %+v", a)
	}
	for _, what := range []string{"", "after a proof in volts"} {
		if a := amperes(); a.Hazard || a.Reading().High != 0 {
			t.Errorf("the clamp with a blown fuse%s: %+v", what, a)
		}
		l.dial(func(s *meter.Setting) { s.Function = meter.VoltsAC })
		if a := l.do(prove); a.Shown != "120.0 V" {
			t.Errorf("volts need no fuse, and read %q", a.Shown)
		}
	}
	l.do(fuse)
	if a := amperes(); a.Reading().Low < 9*faulttree.One {
		t.Errorf("with a new fuse the clamp reads %q", a.Shown)
	}
	if a := l.do(fuse); a.Note == "" {
		t.Error("a whole fuse is changed, and nothing is said")
	}
}

// Ohms on a live circuit give a flash, and no hint of how many volts there are.
func TestOhmsOnLiveTellTheFlashAlone(t *testing.T) {
	for _, f := range []meter.Function{meter.Ohms, meter.Continuity} {
		l := stand(t, with(t))
		l.dial(func(s *meter.Setting) { s.Function = f })
		a := l.read("panel.l1", "panel.n")
		if !a.Hazard || a.Shown != "" || strings.ContainsAny(a.Note+a.Reading().Reason, "0123456789") {
			t.Errorf("%v on 120 V: %+v, %+v", f, a, a.Reading())
		}
		if live := l.do(prove); !live.Hazard || strings.ContainsAny(live.Note, "0123456789") {
			t.Errorf("%v on a known source: %+v", f, live)
		}
	}
}

// Every touch is an act, and so is the next one.
func TestEveryTouchIsAnAct(t *testing.T) {
	l := stand(t, with(t, "open-ground"))
	for range 2 {
		l.do(goIn)
		l.do(goOut)
	}
	l.read("panel.l1", "panel.n")
	if got := kinds(l.a.Acts); got != "in out in out in read" {
		t.Errorf("the acts are %s", got)
	}
	for _, a := range []practice.Act{goIn, {Kind: practice.Throw, Name: "main", On: true}, {Kind: practice.Load, Name: "l1"}} {
		if a := l.do(a); a.Kind != practice.Reject {
			t.Errorf("done though it is so already: %+v", a)
		}
	}
}

// What touches or changes the vehicle is never booked unasked.
func TestAskedBeforeBooked(t *testing.T) {
	c := with(t)
	l := stand(t, c)
	inside := practice.Act{Kind: practice.Read, Red: "panel.l1", Black: "panel.n"}
	for _, tt := range []struct {
		act  practice.Act
		want string
	}{
		{goIn, "Up the step, a hand on the body?"},
		{inside, "Up the step, a hand on the body?"},
		{load, "Up the step, a hand on the body, then turn on the loads on L1?"},
		{practice.Act{Kind: practice.Throw, Name: "plug"}, "Pull out the plug in the pedestal?"},
		{practice.Act{Kind: practice.Throw, Name: "pedestal"}, "Turn off the pedestal's breaker?"},
		{practice.Act{Kind: practice.Throw, Name: "main"}, "Up the step, a hand on the body, then turn off the main breaker?"},
		{practice.Act{Kind: practice.Unplug, Name: "appliances"}, "Up the step, a hand on the body, then appliances out?"},
	} {
		question, asks := l.v.Asks(tt.act)
		if !asks || question != tt.want {
			t.Errorf("%s %s is asked %q; want %q", tt.act.Kind, tt.act.Name, question, tt.want)
		}
		if _, err := l.v.Do(tt.act); !errors.Is(err, practice.ErrNotAsked) {
			t.Errorf("%s %s is booked unasked: %v", tt.act.Kind, tt.act.Name, err)
		}
		if _, differs, err := c.Verify(practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter(), Acts: []practice.Act{tt.act}}); differs == nil || err != nil {
			t.Errorf("%s %s unasked is verified: %v", tt.act.Kind, tt.act.Name, err)
		}
	}
	for _, a := range []practice.Act{prove, fuse, {Kind: practice.Read, Red: "body", Black: "earth"}} {
		if question, asks := l.v.Asks(a); asks {
			t.Errorf("%s is asked %q", a.Kind, question)
		}
	}
	inside.Asked = true
	done, err := l.v.Do(inside)
	if err != nil || kinds(done) != "in read" || !done[0].Asked || done[1].Asked {
		t.Errorf("the reading inside does %+v, %v", done, err)
	}
}

// What is refused moves nobody: a probe meant for a covered contact from inside
// leaves the learner inside.
func TestARefusalChangesNothing(t *testing.T) {
	l := stand(t, with(t))
	l.do(goIn)
	if a := l.read("pedestal.l1", "pedestal.n"); a.Kind != practice.Reject || !l.v.Inside() {
		t.Errorf("%+v, inside: %v", a, l.v.Inside())
	}
}

// A slip is undone at once, and stays on record; after a reading nothing is.
func TestASlipIsTakenBack(t *testing.T) {
	c := with(t)
	l := stand(t, c)
	before := l.v.State()
	l.throw("pedestal", false)
	l.do(slip)
	if st := l.v.State(); st.Off["pedestal"] != before.Off["pedestal"] {
		t.Error("the breaker is still off")
	}
	if a := l.do(slip); a.Kind != practice.Reject {
		t.Errorf("a slip is taken back twice: %+v", a)
	}
	l.throw("pedestal", false)
	l.do(prove)
	if a := l.do(slip); a.Kind != practice.Reject || !l.v.Off("pedestal") {
		t.Errorf("taken back after a reading: %+v", a)
	}
	l.throw("plug", false)
	l.do(practice.Act{Kind: practice.Swap, Name: "another-cord", On: true})
	l.do(slip)
	if l.v.Tried("another-cord") {
		t.Error("the other cord is still in")
	}
	if got := kinds(l.a.Acts); got != "throw take-back throw prove throw swap take-back" {
		t.Errorf("the acts are %s", got)
	}
	if _, differs, err := c.Verify(l.a); differs != nil || err != nil {
		t.Error(differs, err)
	}
}

// With another cord the neutral that was open in the cord is whole, and 120 V
// stand at the panel; with another receptacle it is open still.
func TestAnotherCord(t *testing.T) {
	c := with(t)
	c.Faults = []rig.Applied{{Fault: fault("open-neutral", rig.Edit{Kind: rig.Open, Parts: []string{"cord.n"}})}}
	l := stand(t, c)
	l.do(load)
	panel := func(from, to faulttree.Amount) {
		t.Helper()
		if a := l.read("panel.l1", "panel.n"); a.Reading().Low < from*faulttree.One || a.Reading().High > to*faulttree.One {
			t.Errorf("the panel reads %q; want %d to %d V", a.Shown, from, to)
		}
	}
	swap := func(name string, on bool) practice.Act {
		t.Helper()
		return l.do(practice.Act{Kind: practice.Swap, Name: name, On: on})
	}
	plugged := func(on bool) {
		t.Helper()
		l.throw("pedestal", false)
		l.throw("plug", on)
		l.throw("pedestal", true)
	}
	panel(0, 1)
	if a := swap("another-cord", true); a.Kind != practice.Reject || !strings.Contains(a.Note, "the plug in the pedestal is in") {
		t.Errorf("the cord is exchanged with the plug in: %+v", a)
	}
	plugged(false)
	swap("another-receptacle", true)
	plugged(true)
	panel(0, 1)
	plugged(false)
	if swap("another-cord", true); l.v.Inside() {
		t.Error("the cord is exchanged from inside")
	}
	plugged(true)
	panel(116, 120)
	plugged(false)
	swap("another-cord", false)
	plugged(true)
	panel(0, 1)
	if a := swap("another-cord", false); a.Kind != practice.Reject {
		t.Errorf("its own cord is put in again: %+v", a)
	}
	if _, err := l.v.Do(practice.Act{Kind: practice.Swap, Name: "appliances", On: true, Asked: true}); err == nil {
		t.Error("appliances are exchanged")
	}
	if _, differs, err := c.Verify(l.a); differs != nil || err != nil {
		t.Error(differs, err)
	}
}

// A leak that comes with an appliance goes with it.
func TestUnplugged(t *testing.T) {
	c := with(t, "open-ground")
	c.Faults = append(c.Faults, rig.Applied{Fault: fault("leak", rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Leg: "l1", Ohms: rig.EditValue{Fixed: 1000}})})
	l := stand(t, c)
	l.do(load)
	out := practice.Act{Kind: practice.Unplug, Name: "appliances"}
	body := func(from, to faulttree.Amount) {
		t.Helper()
		if a := l.read("body", "earth"); a.Reading().Low < from*faulttree.One || a.Reading().High > to*faulttree.One {
			t.Errorf("the body reads %s; want %d to %d V", a.Shown, from, to)
		}
	}
	body(115, 121) // 1 kΩ beside the tyres' 2 MΩ: line voltage
	l.do(out)
	body(50, 62) // two equal filters: half of line
	if a := l.do(load); a.Kind != practice.Reject {
		t.Errorf("unplugged loads are turned on: %+v", a)
	}
	out.On = true
	l.do(out)
	l.do(load)
	body(115, 121)
	if _, differs, err := c.Verify(l.a); differs != nil || err != nil {
		t.Error(differs, err)
	}
}

// After the repair the readings are those of the vehicle without what was named
// and is there; what was not named stays.
func TestRepaired(t *testing.T) {
	c := with(t, "open-ground", "supply-dead", "meter-hold")
	l := stand(t, c)
	l.do(prove)
	conclude := func(place faulttree.Place, faults ...string) practice.Conclusion {
		return practice.Conclusion{Faults: faults, Place: place}
	}
	for _, tt := range []struct {
		done practice.Conclusion
		want string
	}{
		{conclude("", "open-ground"), "supply-dead meter-hold"},
		{conclude(faulttree.Supply, "open-ground"), "supply-dead meter-hold"},
		{conclude(faulttree.Cord, "open-ground"), "open-ground supply-dead meter-hold"},
		{conclude("", practice.NoFault), "open-ground supply-dead meter-hold"},
		{conclude(faulttree.Supply, "open-ground", "supply-dead", "meter-hold", "hot-ground-swapped"), practice.NoFault},
	} {
		if got := strings.Join(c.Repaired(tt.done).Truth(), " "); got != tt.want {
			t.Errorf("after %v: %s; want %s", tt.done, got, tt.want)
		}
	}
	done := conclude("", "supply-dead", "meter-hold")
	l.a = l.a.Conclude(done)
	l.a.Repaired = len(l.a.Acts)
	must.Do(t, l.v.Repair(done))
	if a := l.read("panel.l1", "panel.n"); a.Shown != "120.0 V" || a.Setting.Hold {
		t.Errorf("after the repair the panel reads %q, hold %v", a.Shown, a.Setting.Hold)
	}
	if a := l.read("body", "earth"); a.Reading().Low < 50*faulttree.One {
		t.Errorf("the lost ground, which was not named, reads %s", a.Shown)
	}
	if _, differs, err := c.Verify(l.a); differs != nil || err != nil {
		t.Error(differs, err)
	}
	l.a.Repaired = 0
	if _, differs, _ := c.Verify(l.a); differs == nil {
		t.Error("acts after the end, without a repair, are verified")
	}
}

// Who is called to a place mends there what is for the same person to mend, whatever name
// it was given: not what another mends, nor elsewhere, nor a mistake with the meter.
func TestRepairedByTheSamePerson(t *testing.T) {
	c := with(t, "supply-dead", "meter-hold")
	swapped := fault("hot-ground-swapped", rig.Edit{Kind: rig.Swap, Parts: []string{"tap.l1", "tap.g"}})
	hold := *c.Faults[1].Fault
	hold.Variants = slices.Clone(hold.Variants)
	hold.Variants[0].Place = faulttree.MeterOwn
	c.Faults[1].Fault = &hold
	c.Catalogue = []*rig.Fault{swapped, c.Faults[0].Fault, &hold}
	by := map[string]string{"supply-dead": "the site", "hot-ground-swapped": "the site", "meter-hold": "anyone"}
	c.RepairBy = func(at faulttree.FaultAt) string { return by[at.Fault] }
	for _, tt := range []struct {
		by, named string
		place     faulttree.Place
		want      string
	}{
		{"the site", "hot-ground-swapped", faulttree.Supply, "meter-hold"},
		{"the site", "hot-ground-swapped", faulttree.Cord, "supply-dead meter-hold"},
		{"somebody else", "hot-ground-swapped", faulttree.Supply, "supply-dead meter-hold"},
		{"anyone", "hot-ground-swapped", "", "supply-dead meter-hold"},
		{"", "hot-ground-swapped", faulttree.Supply, "supply-dead meter-hold"},
	} {
		by["hot-ground-swapped"] = tt.by
		if got := strings.Join(c.Repaired(practice.Conclusion{Faults: []string{tt.named}, Place: tt.place}).Truth(), " "); got != tt.want {
			t.Errorf("%+v: there is %s", tt, got)
		}
	}
}

// A leak behind a lost ground is there still after the ground alone was put right:
// no reading of the body tells it then, and what is to be found says so.
func TestWhatComesAlongStays(t *testing.T) {
	leak := fault("leak", rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 10_000}})
	both := fault("open-ground", rig.Edit{Kind: rig.Open, Parts: []string{"tap.g"}}, leak.Variants[0].Edits[0])
	both.Variants[0].With = []string{"leak"}
	c := with(t)
	c.Faults, c.Catalogue = []rig.Applied{{Fault: both}}, []*rig.Fault{leak, both}
	if got := strings.Join(c.Truth(), " "); got != "open-ground leak" {
		t.Errorf("there is %s", got)
	}
	for _, tt := range []struct {
		named       []string
		truth       string
		from, to    faulttree.Amount // amperes into the body's bond, in billionths
		bodyVoltsTo faulttree.Amount
	}{
		{[]string{"open-ground"}, "leak", 10 * faulttree.One / 1000, 14 * faulttree.One / 1000, faulttree.One},
		{[]string{"open-ground", "leak"}, practice.NoFault, 0, 2 * faulttree.One / 1000, faulttree.One},
		{[]string{"leak"}, "open-ground", 0, 2 * faulttree.One / 1000, 62 * faulttree.One},
	} {
		done := practice.Conclusion{Faults: tt.named}
		if got := strings.Join(c.Repaired(done).Truth(), " "); got != tt.truth {
			t.Errorf("after %v there is %s; want %s", tt.named, got, tt.truth)
		}
		l := stand(t, c)
		must.Do(t, l.v.Repair(done))
		if body := l.read("body", "earth"); body.Reading().High > tt.bodyVoltsTo {
			t.Errorf("after %v the body reads %s", tt.named, body.Shown)
		}
		l.dial(func(s *meter.Setting) { s.Function = meter.AmpsAC })
		if bond := l.read("body", ""); bond.Reading().Low < tt.from || bond.Reading().High > tt.to {
			t.Errorf("after %v the bond carries %s", tt.named, bond.Shown)
		}
	}
}

// What opens is told with the act that opens it, once, and stands in its record. 6000 W
// at 120 V are 50 A, and the breaker opens beyond 40 A.
func TestWhatTripsIsOnRecord(t *testing.T) {
	c := with(t)
	must.Do(t, c.SetLoad("l1", 6000))
	c.Loads["l1"] = false
	l := stand(t, c)
	l.do(goIn)
	tripped := func(want ...string) {
		t.Helper()
		if got := must.Have(l.v.Tripped())(t); !slices.Equal(got, want) {
			t.Errorf("tripped are %v; want %v", got, want)
		}
	}
	tripped()
	if a := l.do(load); !slices.Equal(a.Trips, []string{"breaker"}) {
		t.Errorf("the load trips %v", a.Trips)
	}
	tripped("breaker")
	if a := l.read("panel.l1", "panel.n"); a.Reading().High > faulttree.One || a.Trips != nil {
		t.Errorf("behind an open breaker: %q, trips %v", a.Shown, a.Trips)
	}
	if a := l.do(practice.Act{Kind: practice.Load, Name: "l1"}); a.Trips != nil {
		t.Errorf("turned off, it trips %v", a.Trips)
	}
	tripped("breaker")
	l.throw("pedestal", false)
	l.throw("pedestal", true)
	tripped()
	if a := l.do(load); len(a.Trips) != 1 {
		t.Errorf("the second time it trips %v", a.Trips)
	}
	sent := must.Have(practice.Decode(must.Have(json.Marshal(l.a))(t)))(t)
	for what, trips := range map[string][]string{"": {"breaker"}, "kept before trips were": nil, `act 2 says "tripped: main"; expected "tripped: breaker"`: {"main"}} {
		a := sent
		a.Acts = slices.Clone(sent.Acts)
		a.Acts[1].Trips = trips
		verified, differs, err := c.Verify(a)
		if err != nil || !slices.Equal(verified.Acts[1].Trips, []string{"breaker"}) {
			t.Errorf("%v: verified %+v, %v", trips, verified.Acts[1], err)
		}
		if differs != nil && differs.Error() != what || differs == nil && strings.Contains(what, "says") {
			t.Errorf("%v: it differs in %v; want %q", trips, differs, what)
		}
	}
}
