package class

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
)

// Files from outside cannot make the marking endless: too many acts, and meters of
// too many kinds, are told; an attempt that cannot be marked leaves the others.
func TestMarkingIsBounded(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	files := map[string][]byte{}
	for i := range mostMeters + 2 {
		name := fmt.Sprintf("Learner %d", i)
		f := AttemptFile{Learner: name, Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon}
		try := play(t, a, 0, name, time.Duration(i+2)*time.Second, practice.Act{Kind: practice.Prove})
		try.Meter.Name = name
		if i > 0 {
			try.Meter.ACVolts.Counts += i
		}
		f.Attempts = append(f.Attempts, try)
		files[name] = written(t, f)
	}
	long := AttemptFile{Learner: "Learner 9", Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon}
	var acts []practice.Act
	for range mostMarkedActs + 1 {
		acts = append(acts, practice.Act{Kind: practice.Prove})
	}
	long.Attempts = append(long.Attempts, play(t, a, 0, "Learner 9", time.Second, acts...))
	files["long"] = written(t, long)
	c := collected(t, folderOf(t, a, files), Options{})
	asked := 0
	must.Do(t, c.Mark(context.Background(), failing{&asked}, nil))
	another := "Its meter is of a kind of its own; attempts with at most 3 kinds are marked."
	if asked != mostMeters {
		t.Errorf("%d are marked", asked)
	}
	for i, want := range []string{"It is not marked: no.", "", "", another, another, "It has 301 acts; at most 300 are marked."} {
		if got := c.Learners[i].Tries[0].Unmarked; got != want {
			t.Errorf("%s: %q; expected %q", c.Learners[i].Name, got, want)
		}
	}
	ctx, stop := context.WithCancel(context.Background())
	if err := c.Mark(ctx, failing{&asked}, func(int, int) { stop() }); !errors.Is(err, context.Canceled) {
		t.Error(err)
	}
}

// failing marks all but the first.
type failing struct{ asked *int }

func (f failing) Mark(ctx context.Context, all []Try, done func(int, *Marks, error)) error {
	for i := range all {
		if *f.asked++; *f.asked == 1 {
			done(i, nil, errors.New("no"))
		} else {
			done(i, marked(80, "good"), nil)
		}
	}
	return ctx.Err()
}

// Where the first variant of a name cannot be solved the next is given out, by a rule
// that both sides know.
func TestTheNextVariantOfANameVerifiesToo(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step")
	seed := a.Seeds(0, "Wren")[2]
	c := scenes.CaseOf(shipped, scenes.VariantOf(shipped.Scenarios["barefoot-on-the-steel-step"], seed))
	v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
	done := must.Have(v.Do(practice.Act{Kind: practice.Read, Red: "body", Black: "earth", At: time.Second}))(t)
	try := practice.Attempt{Case: c.ID, Seed: seed, Level: a.Level, Role: a.Role, Meter: faulttree.DefaultMeter(), Rules: practice.Rules, Started: noon}.With(done...)
	f := AttemptFile{Learner: "Wren", Assignment: a.ID, Handbook: shipped.Fingerprint(), Saved: noon, Attempts: []practice.Attempt{try}}
	got := collected(t, folderOf(t, a, map[string][]byte{"1": written(t, f)}), Options{})
	if x := got.Learners[0].Tries[0]; x.Edited != "" || !strings.HasPrefix(x.Scenario.Answer, "In this variant:") {
		t.Errorf("%q, %q", x.Edited, x.Scenario.Answer)
	}
}

// A replay says in their places the hints, what was expected, and the conclusion.
func TestReplay(t *testing.T) {
	a := assigned(t, false, "barefoot-on-the-steel-step")
	try := play(t, a, 0, "Wren", 10*time.Second, usual()[:2]...)
	try.Hints = []practice.Hint{{After: 1, Text: "Read the\u202e body.", At: 12 * time.Second}}
	try.Predictions = []practice.Prediction{{Before: 0, Expects: "120 V", Tells: "the meter reads", At: time.Second}}
	try.Conclusion.Place, try.Conclusion.Do, try.Conclusion.RepairBy, try.Conclusion.Deciding = "cord", "open-ground@cord", "an electrician", []int{1}
	try = try.With(practice.Act{Kind: practice.Prove, Setting: try.Acts[0].Setting, At: time.Minute, Shown: "120.0 V"})
	try.Repaired = 2
	x := &Checked{Attempt: try, Scenario: shipped.Scenarios[try.Case], Case: scenes.CaseOf(shipped, shipped.Scenarios[try.Case])}
	var got []string
	for _, s := range Replay(shipped, x, []string{"", "a ground"}) {
		got = append(got, strings.TrimSpace(fmt.Sprintf("%d %s %s %s", s.Number, s.What, s.Came, s.Belief)))
	}
	want := []string{
		"0 Expected: 120 V. It would tell: the meter reads", "1 A source known to be live · AC volts 120.0 V", "0 A hint: Read the body.", "2 Body to earth · AC volts 29.86 V a ground",
		"0 Concluded: The grounding conductor is open (place: cord · sureness: guess · decided by act: 2 · to be done: Keep the plug out. Take the cord out of service and mark it. · by: an electrician)",
		"0 What was concluded is put right; what follows is read after it", "3 A source known to be live · AC volts 120.0 V",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("got\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
}

// The best order of a scenario is stored in the handbook. It serves the scenario that
// was handed out as well, and a meter whatever it is called: to work it out anew takes
// some ten seconds for each.
func TestStoredOrdersServeAnAssignment(t *testing.T) {
	a := assigned(t, true, "barefoot-on-the-steel-step", "flat-by-breakfast")
	again, err := ReadAssignment(bytes.NewReader(written(t, a)))
	if err != nil {
		t.Fatal(err)
	}
	scenarios := must.Have(again.Scenarios(context.Background(), shipped))(t)
	by, try := NewMarker(shipped), practice.Attempt{Meter: faulttree.DefaultMeter()}
	try.Meter.Name = "mine"
	for _, s := range scenarios {
		if by.bookOf(s, try).Stored == nil {
			t.Errorf("the stored order does not serve %s", s.ID)
		}
	}
	again.Tasks[0].Text = strings.Replace(again.Tasks[0].Text, "title: ", "title: Not ", 1)
	if scenarios, err = again.Scenarios(context.Background(), shipped); err != nil {
		t.Fatal(err)
	}
	if by.bookOf(scenarios[0], try).Stored != nil {
		t.Error("the stored order serves a scenario that was changed")
	}
}
