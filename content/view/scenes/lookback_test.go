package scenes_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
)

// A look back puts what was read beside what the vehicles show in which the same is to
// be done. 30 A's half of line by two equal filters, and nothing on a sound body, are
// circuit arithmetic; a reading that was held counts for nothing.
func TestReadingsAreComparedByTheBelief(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["buzz-after-the-rain"]
	c := scenes.CaseOf(m.lib, s)
	v, err := c.Begin(faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	a := practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Role: s.Role}
	for _, act := range []practice.Act{
		{Kind: practice.Prove},
		{Kind: practice.Read, Red: "body", Black: "earth"},
		{Kind: practice.Read, Red: "body", Black: "earth", Setting: meter.Setting{Hold: true}},
	} {
		act.Asked = true
		v.Set(meter.Setting{Function: meter.VoltsAC, Hold: act.Setting.Hold})
		done, err := v.Do(act)
		if err != nil {
			t.Fatal(err)
		}
		a = a.With(done...)
	}
	a = a.Name("open-ground")
	x, err := scenes.Compare(context.Background(), m.lib, c, a, scenes.MarkBook(m.lib, s, m.beliefs))
	if err != nil {
		t.Fatal(err)
	}
	if len(x.Rows) != 1 || !strings.HasPrefix(x.Rows[0].Name, "2. Body to earth") || x.Rows[0].Read != a.Acts[1].Shown {
		t.Fatalf("compared are %+v", x.Rows)
	}
	if !strings.HasPrefix(x.Suspects[0], "It was: ") || !strings.Contains(x.Suspects[0], "round") || len(x.Suspects) < 2 {
		t.Errorf("the suspects are %q", x.Suspects)
	}
	if first := x.Rows[0].Shows[0]; first.Off || first.Text == "—" {
		t.Errorf("what is there shows %+v", first)
	}
	if !strings.Contains(x.Note, "What the customer says counts as well, as told: “How do the 120 V lamps") {
		t.Errorf("of the story it says nothing: %q", x.Note)
	}
	if !strings.Contains(x.Note, "What the meter held") {
		t.Errorf("of what was held it says nothing: %q", x.Note)
	}
	t.Logf("%+v", x)
	sound := x.Rows[0].Shows[1]
	if !strings.Contains(strings.ToLower(x.Suspects[1]), "no fault") || !sound.Off || !strings.HasPrefix(sound.Text, "0") {
		t.Errorf("a sound vehicle is %q and shows %+v", x.Suspects[1], sound)
	}
}

// In every scenario what there was to find stands first, also where the site itself
// shows something although nothing is broken.
func TestWhatThereWasToFindStandsFirst(t *testing.T) {
	m := marking()
	for _, s := range view.Scenarios(m.lib) {
		c := scenes.CaseOf(m.lib, s)
		a := practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Role: s.Role}.Name(c.Truth()[0])
		x, err := scenes.Compare(context.Background(), m.lib, c, a, scenes.MarkBook(m.lib, s, m.beliefs))
		if err != nil {
			t.Fatal(s.ID, err)
		}
		if len(x.Suspects) == 0 || !strings.HasPrefix(x.Suspects[0], "It was: ") || len(x.Rows) > 0 {
			t.Errorf("%s: the suspects are %q, the readings %v", s.ID, x.Suspects, x.Rows)
		}
	}
}

// pulledFirst reports whether a plan begins with the pedestal's breaker off and the plug
// out, and reads only after that: nothing is touched that the pedestal can make live.
func pulledFirst(plan []practice.Act) bool {
	off := func(a practice.Act, name string) bool { return a.Kind == practice.Throw && a.Name == name && !a.On }
	return len(plan) > 2 && off(plan[0], "pedestal") && off(plan[1], "plug") && plan[len(plan)-1].Kind == practice.Read
}

// After a reading that hurts, an owner is asked for nothing live, in whatever state it
// was read. 30 V on the body of somebody who may stand there wet is the handbook's limit.
func TestAnOwnerIsAskedForNothingLiveAfterADanger(t *testing.T) {
	m := marking()
	s := m.lib.Scenarios["buzz-after-the-rain"]
	for _, loads := range []bool{true, false} {
		c := scenes.CaseOf(m.lib, s)
		v, err := c.Begin(faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		a := practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Role: faulttree.Owner}
		acts := []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "body", Black: "earth"}}
		if !loads {
			acts = slices.Insert(acts, 1, practice.Act{Kind: practice.Load, Name: "l1"})
		}
		for _, act := range acts {
			act.Asked = true
			done, err := v.Do(act)
			if err != nil {
				t.Fatal(err)
			}
			a = a.With(done...)
		}
		by := scenes.MarkBook(m.lib, s, m.beliefs)
		k, err := mark.Know(context.Background(), c, a, len(a.Acts), by)
		if err != nil {
			t.Fatal(err)
		}
		if !k.Hurts() {
			t.Errorf("loads %v: %s on the body hurts nobody", loads, a.Acts[len(a.Acts)-1].Shown)
		}
		step, err := scenes.NextStep(context.Background(), m.lib, c, a, by)
		if err != nil {
			t.Fatal(err)
		}
		if step.Reads && !pulledFirst(step.Plan) {
			t.Errorf("loads %v: an owner is asked: %s", loads, step.Text())
		}
	}
}

// Where the mark is less than its points, it is said why.
func TestMarkBound(t *testing.T) {
	parts := []mark.Part{{Points: 40, Of: 40}, {Points: 12, Of: 20}}
	for _, x := range []struct {
		m    mark.Marks
		want []string
	}{
		{mark.Marks{Parts: parts, Total: 52}, nil},
		{mark.Marks{Parts: parts, Total: 45, Guess: true, Bound: 45}, []string{"add up to 52", "The mark is 45", "at most 45"}},
		{mark.Marks{Parts: parts, Total: 40, Caps: make([]mark.Cap, 1)}, []string{"add up to 52", "The mark is 40", "an unsafe act bounds the whole"}},
	} {
		said := scenes.MarkBound(x.m)
		for _, want := range x.want {
			if !strings.Contains(said, want) {
				t.Errorf("%+v: %q does not say %q", x.m, said, want)
			}
		}
		if len(x.want) == 0 && said != "" {
			t.Errorf("%+v: it says %q", x.m, said)
		}
	}
}
