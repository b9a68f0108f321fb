package faulttree

import (
	"strings"
	"testing"
)

// pattern is a tree that reads two voltages, weighs them together, and weighs
// the difference again in a second step. At "again" the first may be read anew.
func pattern() *Forest {
	n := Quantity{ID: "n-g", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	g := Quantity{ID: "g-earth", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	one := func(id string, q Quantity, next, missing string) *Step {
		return &Step{ID: id, Title: "Read " + id, Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: q}},
			Branches: []Branch{{Exit: goTo(next, NoSignal)}}, OverRange: goTo(next, Warning), NotPossible: goTo(missing, Warning)}
	}
	band := func(v int, from, below Amount, to string, s Signal, label string) Branch {
		e := goTo(to, s)
		e.Label = label
		return Branch{Bounds: []Bound{{v, Span{from, below}, noPos}}, Exit: e}
	}
	weigh := &Step{ID: "weigh", Title: "The two together", Kind: KindWeigh,
		Measure: []Variable{{Name: "n", Quantity: n}, {Name: "g", Quantity: g}},
		Derive:  []Derived{{Name: "apart", Unit: VoltsAC, Terms: []Term{{1, 0}, {-1, 1}}}},
		Branches: []Branch{
			band(2, Lowest, 10*One, "near", NoSignal, "close together"),
			band(2, 10*One, Highest, "far", Danger, "apart"),
		},
		OverRange: goTo("far", Danger), NotPossible: goTo("unknown", Warning)}
	near := &Step{ID: "near", Title: "The first alone", Kind: KindWeigh, Measure: []Variable{{Name: "n", Quantity: n}},
		Branches:  []Branch{band(0, Lowest, 50*One, "small", NoSignal, ""), band(0, 50*One, Highest, "open-it", Danger, "")},
		OverRange: goTo("far", Danger), NotPossible: goTo("unknown", Warning)}
	read := one("n", n, "g", "g")
	read.Recheck, read.Then = 2, goTo("g", NoSignal)
	steps := []*Step{
		{ID: "ask", Kind: KindObserve, Choices: []Choice{
			{ID: "both", Exit: goTo("n", NoSignal)}, {ID: "second", Exit: goTo("g", NoSignal)}}},
		read, one("g", g, "again", "again"),
		{ID: "again", Kind: KindObserve, Choices: []Choice{
			{ID: "yes", Exit: goTo("n", NoSignal)}, {ID: "no", Exit: goTo("weigh", NoSignal)}}},
		weigh, near,
		{ID: "open-it", Kind: KindMeasure, For: Qualified, Measure: []Variable{{Name: "v", Quantity: n}},
			Branches: []Branch{{Exit: goTo("small", Notice)}}, OverRange: goTo("far", Danger), NotPossible: goTo("far", Danger)},
	}
	for _, id := range []string{"small", "far", "unknown"} {
		steps = append(steps, &Step{ID: id, Title: "Found " + id, Kind: KindFinding, Finding: Finding{Signal: Notice, Clears: []Place{Supply}}})
	}
	tree := &Tree{ID: "t", Start: "ask", Steps: steps, Limits: map[string]Limit{}, Danger: map[string]string{}}
	for _, s := range steps {
		s.Tree = "t"
	}
	tree.Index()
	return &Forest{Trees: map[string]*Tree{"t": tree}}
}

func weighed(e Entry) string {
	var ids []string
	for _, g := range e.Weighed {
		ids = append(ids, g.Step.Step+":"+g.Outcome.Text)
	}
	return strings.Join(ids, " ")
}

func TestWeighingTakesTheLastReadings(t *testing.T) {
	for _, c := range []struct {
		answers []string
		at      string // where the walk ends
		weighed string
	}{
		{[]string{"both", "5.00", "4.00", "no"}, "small", "weigh:near near:small"},
		{[]string{"both", "40.00", "4.00", "no"}, "far", "weigh:far"},
		{[]string{"both", "40.00", "4.00", "yes", "5.00", "4.00", "no"}, "small", "weigh:near near:small"},
		{[]string{"both", "5.00", "4.00", "yes", "40.00", "4.00", "no"}, "far", "weigh:far"},
		{[]string{"both", "5.00", "4.00", "yes", "cannot: fell off", "4.00", "no"}, "unknown", "weigh:unknown"},
		{[]string{"second", "4.00", "no"}, "unknown", "weigh:unknown"},
		{[]string{"both", "OL", "4.00", "no"}, "far", "weigh:far"},
		// 14.1 - 4.0 is 10.1 V, and the meter errs by more: the figures shown decide.
		{[]string{"both", "14.1", "4.00", "no"}, "far", "weigh:far"},
		{[]string{"both", "13.5", "4.00", "no"}, "small", "weigh:near near:small"},
	} {
		w, err := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		w = give(t, w, c.answers...)
		trail := w.Trail()
		last := trail[len(trail)-1]
		if w.At().Step != c.at || last.Next != w.At() || weighed(last) != c.weighed || len(trail) != len(c.answers) || last.RanOut {
			t.Errorf("%v: at %v after %q, ran out %v; want %s after %q", c.answers, w.At(), weighed(last), last.RanOut, c.at, c.weighed)
		}
		for _, e := range trail[:len(trail)-1] {
			if e.Weighed != nil {
				t.Errorf("%v: step %v has weighed %q", c.answers, e.Step, weighed(e))
			}
		}
		if last.Outcome.Text != "weigh" {
			t.Errorf("%v: the outcome of the question is %q", c.answers, last.Outcome.Text)
		}
	}
}

func TestWeighingSaysWhatItIsUnsureOf(t *testing.T) {
	w, _ := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
	trail := give(t, w, "both", "13.5", "4.00", "no").Trail()
	out := trail[3].Weighed[0].Outcome
	if out.Certain || out.Advice == "" || len(out.Also) != 1 || out.Also[0].Signal != Danger || out.Text != "near" {
		t.Errorf("9.5 V with an error over 0.5 V gives %+v", out)
	}
	if got := w.Forest().Weighed(trail[3].Weighed[0]); got != "The two together → close together" {
		t.Errorf("told as %q", got)
	}
}

func TestWeighingIsDoneAgainByBackAndChange(t *testing.T) {
	w, _ := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "5.00", "4.00", "no")
	if b := w.Back(); b.At().Step != "again" || len(b.Trail()) != 3 {
		t.Fatalf("back leads to %v", b.At())
	}
	r, err := ParseReading("40.00", w.forest.Step(Ref{"t", "n"}).Measure[0].Quantity)
	if err != nil {
		t.Fatal(err)
	}
	next, dropped, err := w.Change(1, Answer{Readings: []Reading{r}})
	if err != nil || len(dropped) > 0 || next.At().Step != "far" || weighed(next.Trail()[3]) != "weigh:far" {
		t.Errorf("after the change: at %v, dropped %v, %v", next.At(), dropped, err)
	}
	if w.At().Step != "small" || weighed(w.Trail()[3]) != "weigh:near near:small" {
		t.Error("the change altered the walk it was made from")
	}
}

func TestWeighedDangerReachesTheHandOver(t *testing.T) {
	w, _ := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "60.00", "58.00", "no")
	if r, ok := w.Finding(); !ok || !r.HandedOver || r.Finding.Signal != Danger {
		t.Errorf("a weighing of signal danger, handed over: %+v", r)
	}
}

func TestNoWalkBeginsAtAWeighing(t *testing.T) {
	f := pattern()
	if _, err := Begin(f, Ref{"t", "weigh"}, Owner, DefaultMeter()); err == nil || !strings.Contains(err.Error(), "no walk can begin there") {
		t.Errorf("begun at a weigh step: %v", err)
	}
	f.Trees["t"].Start = "weigh"
	if _, err := Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter()); err == nil {
		t.Error("begun in a tree that starts with a weigh step")
	}
}

func TestWeighingsInACircleEnd(t *testing.T) {
	f := pattern()
	f.Step(Ref{"t", "near"}).Branches[0].Exit = goTo("weigh", NoSignal)
	w, _ := Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "5.00", "4.00")
	if _, err := w.Answer(Answer{Choice: "no"}); err == nil || !strings.Contains(err.Error(), "circle") {
		t.Errorf("a circle of weigh steps: %v", err)
	}
}

// A recheck that ran out after a weighing is still told apart.
func TestRecheckRunsOutBehindAWeighing(t *testing.T) {
	f := pattern()
	f.Step(Ref{"t", "near"}).Branches[0].Exit = goTo("n", NoSignal)
	w, _ := Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "5.00", "4.00", "no")
	if e := w.Trail()[3]; w.At().Step != "n" || e.RanOut {
		t.Fatalf("the first time at %v, ran out %v", w.At(), e.RanOut)
	}
	w = give(t, w, "5.00", "4.00", "no")
	if e := w.Trail()[6]; w.At().Step != "g" || !e.RanOut {
		t.Errorf("the second time at %v, ran out %v", w.At(), e.RanOut)
	}
}
