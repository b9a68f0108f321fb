package view

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// shippedWalk answers a shipped tree with readings and choices by id; acts count as done.
func shippedWalk(t *testing.T, tree string, role faulttree.Role, readings map[string]string, choices map[string]string) (*content.Library, faulttree.Walk) {
	t.Helper()
	lib := load.Shipped()
	s := faulttree.Supplied{ActsDone: true, Readings: map[string][]faulttree.Reading{}, Choices: map[faulttree.Ref]string{},
		Facts: map[string]string{"service": "30a", "adapter": "none"}}
	for id, text := range readings {
		r := must.Have(faulttree.ParseReading(text, lib.Forest.Quantities[id]))(t)
		s.Readings[id] = []faulttree.Reading{r}
	}
	for step, choice := range choices {
		s.Choices[faulttree.ParseRef(step, tree)] = choice
	}
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, role, faulttree.DefaultMeter())
	if err == nil {
		w, _, err = w.Supply(s)
	}
	if err != nil {
		t.Fatal(err)
	}
	return lib, w
}

// In a finding of DANGER the sound values stand without the word: OL from neutral to
// the body is what good insulation reads. Finding, trail and count agree.
func TestSoundValuesAreNotCalledDanger(t *testing.T) {
	lib, w := shippedWalk(t, "body-voltage", faulttree.Owner, map[string]string{
		"meter.known-source": "119.8", "plug.l1-n@unplugged": "0.0", "plug.l1-g@unplugged": "0.0", "plug.n-g@unplugged": "0.0", "body-earth": "58",
		"ohm:plug.g-body@unplugged": "OL", "ohm:plug.g-cord.g@unplugged": "OL", "ohm:plug.n-body@unplugged": "OL", "ohm:plug.l1-body@unplugged": "OL", "ohm:plug.l1-n@unplugged": "11.8",
	}, nil)
	v, ok := FindingOf(lib, w)
	if !ok || v.Signal != faulttree.Danger {
		t.Fatalf("the walk ends at %v, %v", w.At(), v.Signal)
	}
	want := map[string]faulttree.Signal{
		"body-earth": faulttree.Danger, "ohm:plug.n-body@unplugged": faulttree.NoSignal, "ohm:plug.l1-n@unplugged": faulttree.NoSignal,
		"plug.l1-n@unplugged": faulttree.NoSignal,
	}
	for _, l := range v.Shows {
		if s, ok := want[l.Quantity.ID]; ok && s != l.Signal {
			t.Errorf("%s: %v, want %v", l.Text(), l.Signal, s)
		}
	}
	counted := fmt.Sprintf("%d readings", w.Readings())
	if read := TakenAmong(v.Shows); read != w.Readings() || read < 8 || !strings.HasPrefix(v.Above, "Finding · "+counted+" · ") || ReadingsTaken(w) != counted {
		t.Errorf("%d readings shown, %d counted, above the finding: %q", TakenAmong(v.Shows), w.Readings(), v.Above)
	}
}

// Two choices that share their first words are two answers: one can be changed
// into the other, and the trail tells them apart.
func TestChoicesWithTheSameBeginning(t *testing.T) {
	lib, _ := shippedWalk(t, "half-dead", faulttree.Owner, nil, nil)
	alike := 0
	for id, tree := range lib.Forest.Trees {
		for _, s := range tree.Steps {
			for i, c := range s.Choices {
				for _, other := range s.Choices[:i] {
					first, _, _ := strings.Cut(c.Text, ",")
					if again, _, _ := strings.Cut(other.Text, ","); first == again {
						alike++
					}
					if a, b := shortChoice(s, c.ID), shortChoice(s, other.ID); a == b {
						t.Errorf("%s#%s: %q stands for two choices", id, s.ID, a)
					}
				}
			}
		}
	}
	if alike == 0 {
		t.Fatal("no two choices of the handbook begin alike: this test tests nothing")
	}
	s := &faulttree.Step{Tree: "half-dead", ID: "q", Kind: faulttree.KindObserve, Choices: []faulttree.Choice{
		{ID: "a", Text: "No, never"}, {ID: "b", Text: "No, only when wet, and then always"}, {ID: "c", Text: "No, only when wet, and then sometimes"}, {ID: "d", Text: "Yes, today"}}}
	for id, want := range map[string]string{"a": "No, never", "b": "No, only when wet, and then always", "c": "No, only when wet, and then sometimes", "d": "Yes", "gone": "gone"} {
		if got := shortChoice(s, id); got != want {
			t.Errorf("%s: %q, want %q", id, got, want)
		}
	}
	w := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "half-dead", Step: "works-at-all"}, faulttree.Owner, faulttree.DefaultMeter()))(t)
	choices := w.Step().Choices
	for i := range choices {
		one := must.Have(w.Answer(faulttree.Answer{Choice: choices[i].ID}))(t)
		for k := range choices {
			if c, err := ChangeOf(lib, one, 0, faulttree.Answer{Choice: choices[k].ID}); err != nil || c.Same != (i == k) {
				t.Errorf("from %q to %q: same %v, %v", choices[i].Text, choices[k].Text, c.Same, err)
			}
		}
	}
}

// Walks through sound installations, written by hand, are as long as the graph
// says at their first step.
func TestStepOfAbout(t *testing.T) {
	lib := load.Shipped()
	for file, tree := range map[string]string{
		"pedestal-30a-healthy": "pedestal-30a", "pedestal-50a-healthy-240": "pedestal-50a",
	} {
		in := must.Have(os.Open("../../testdata/walks/" + file + ".yaml"))(t)
		defer in.Close()
		given, diags := load.Readings(in, file, lib.Forest)
		begin, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, faulttree.Owner, faulttree.DefaultMeter())
		if err != nil || len(diags) > 0 {
			t.Fatal(err, diags)
		}
		w, _, err := begin.Supply(given)
		if err != nil || !w.Ended() {
			t.Fatalf("%s: the walk stands at %v, %v", file, w.At(), err)
		}
		all := len(w.Trail())
		first, _ := StepIn(lib, begin, 0)
		ahead := all - len(given.Facts) // which are counted once they are asked
		for id := range given.Facts {
			if !slices.ContainsFunc(w.Trail(), func(e faulttree.Entry) bool { return e.Step == faulttree.FactRef(id) }) {
				ahead++
			}
		}
		if want := fmt.Sprintf("%s · step 1 of about %d", first.Tree, ahead); first.Of != ahead || first.Above != want {
			t.Errorf("%s takes %d steps: %q, want %q", file, all, first.Above, want)
		}
		third, _ := StepIn(lib, w, 2)
		if want := fmt.Sprintf("%s · step 3 of about %d, answered", first.Tree, all); third.Above != want {
			t.Errorf("%s: %q, want %q", file, third.Above, want)
		}
	}
}

// Beside every reading of a chart stands what the row that it came to asks of it,
// also where the readings decided together.
func TestReadingsThatDecideTogetherShowTheirLimits(t *testing.T) {
	in := must.Have(os.Open("../../testdata/walks/body-cord-and-leak.yaml"))(t)
	defer in.Close()
	lib := load.Shipped()
	given, _ := load.Readings(in, "body-cord-and-leak", lib.Forest)
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "body-voltage"}, faulttree.Owner, faulttree.DefaultMeter())
	if err == nil {
		w, _, err = w.Supply(given)
	}
	f, ended := FindingOf(lib, w)
	if err != nil || !ended {
		t.Fatalf("the walk stands at %v, %v", w.At(), err)
	}
	shown := map[string]string{}
	for _, l := range f.Shows {
		shown[l.Quantity.ID] = l.Range
	}
	for id, want := range map[string]string{"ohm:plug.g-cord.g@unplugged": "above 0.3 Ω", "ohm:plug.n-body@unplugged": "below 1 MΩ"} {
		if shown[id] != want {
			t.Errorf("beside %s stands %q, want %q; of all %v", id, shown[id], want, shown)
		}
	}
}
