package suspect

import (
	"fmt"
	"testing"

	"faultwright/faulttree"
)

// What is asked for again and again stays, however much else is asked for meanwhile, and
// never more is kept than was said.
func TestRecentKeepsWhatIsAskedFor(t *testing.T) {
	r := &recent[int, string]{most: 5}
	worked := 0
	ask := func(key int) {
		if got := r.of(key, func() string { worked++; return fmt.Sprint(key) }); got != fmt.Sprint(key) {
			t.Fatalf("of %d is kept %q", key, got)
		}
	}
	for key := range 100 {
		ask(-1)
		ask(key)
		if n := len(r.kept) + len(r.old); n > 10 {
			t.Fatalf("%d are kept", n)
		}
	}
	if worked != 101 {
		t.Errorf("worked out %d times; want once for each", worked)
	}
	ask(50)
	r.forget()
	ask(-1)
	if worked != 103 {
		t.Errorf("worked out %d times; want anew what was let go of", worked)
	}
}

// A belief is the same to the bit whether what it rests on was weighed before, in other
// beliefs that a frozen display and contacts beside make other ones, or never.
func TestWhatWasWeighedBeforeChangesNothing(t *testing.T) {
	p := toy(300, 2)
	volts, pins, battery := read(t, "panel.l1-n", "59 V"), read(t, "pedestal.l1-n", "120 V"), read(t, "battery.pos-neg", "12.6 V")
	again, doubtful := read(t, "panel.l1-n", "60 V"), pins
	doubtful.Doubtful = true
	kept := New(p, faulttree.DefaultMeter(), toyFaults)
	for _, of := range [][]Evidence{{volts}, {volts, pins}, {pins, volts}, {volts, doubtful}, {volts, pins, battery}, {volts, again, pins}, {volts}} {
		got, want := believe(t, kept, of...), believe(t, New(p, faulttree.DefaultMeter(), toyFaults), of...)
		for i := range want.Shares() {
			if got.Shares()[i] != want.Shares()[i] || got.Evened()[i] != want.Evened()[i] {
				t.Fatalf("%d readings, case %d: %v, evened %v; by themselves %v and %v", len(of), i, got.Shares()[i], got.Evened()[i], want.Shares()[i], want.Evened()[i])
			}
		}
		if g, w := fmt.Sprint(got.Open()), fmt.Sprint(want.Open()); g != w {
			t.Errorf("%d readings leave open %s; by themselves %s", len(of), g, w)
		}
	}
}

// In brief the suspects are the suspects, but for their cases and what fits them worst.
func TestBriefSuspects(t *testing.T) {
	b := believe(t, New(toy(300, 2), faulttree.DefaultMeter(), toyFaults), read(t, "panel.l1-n", "59 V"), read(t, "battery.pos-neg", "12.6 V"))
	brief := b.Brief()
	for i, s := range b.Suspects() {
		if s.Share > 0 && (len(s.Cases) == 0 || s.Worst == nil) {
			t.Errorf("%s has no cases, or nothing fits it worst", s.Title)
		}
		s.Cases, s.Worst = nil, nil
		if got, want := fmt.Sprintf("%+v", brief[i]), fmt.Sprintf("%+v", s); got != want {
			t.Errorf("in brief %s\nwant %s", got, want)
		}
	}
}
