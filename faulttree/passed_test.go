package faulttree

import (
	"strings"
	"testing"

	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
)

// pattern is a tree that reads two voltages, and then has two charts of them: how
// far they lie apart, and how high the first is. At "again" the first may be read
// anew before that.
func pattern() *Forest {
	n := Quantity{ID: "n-g", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	g := Quantity{ID: "g-earth", Unit: VoltsAC, Range: 600 * One, Most: 1000 * One}
	one := func(id string, q Quantity, next, missing string) *Step {
		return &Step{ID: id, Title: "Read " + id, Kind: KindMeasure, Measure: []Variable{{Name: "v", Quantity: q}},
			Branches: []Branch{{Exit: goTo(next, NoSignal)}}, OverRange: goTo(next, Warning), NotPossible: goTo(missing, Warning)}
	}
	labelled := func(r Row, label string) Row {
		r.Label = label
		return r
	}
	both := &Step{ID: "both", Title: "The two together", Kind: KindChart,
		Measure: []Variable{{Name: "n", Quantity: n}, {Name: "g", Quantity: g}},
		Derive:  []Derived{{Name: "apart", Unit: VoltsAC, Terms: []Term{{1, 0}, {-1, 1}}}},
		Chart: &Chart{Rows: []Row{
			labelled(row("near", NoSignal, anyCell, anyCell, in(-1, 10)), "close together"),
			labelled(row("far", Danger, anyCell, anyCell, anyCell), "apart"),
		}},
		NotPossible: goTo("unknown", Warning)}
	near := &Step{ID: "near", Title: "The first alone", Kind: KindChart, Measure: []Variable{{Name: "n", Quantity: n}},
		Chart:       &Chart{Rows: []Row{row("small", NoSignal, in(-1, 50)), row("open-it", Danger, anyCell)}},
		NotPossible: goTo("unknown", Warning)}
	read := one("n", n, "g", "g")
	read.Recheck, read.Then = 2, goTo("g", NoSignal)
	steps := []*Step{
		{ID: "ask", Kind: KindObserve, Choices: []Choice{
			{ID: "both", Exit: goTo("n", NoSignal)}, {ID: "second", Exit: goTo("g", NoSignal)}}},
		read, one("g", g, "again", "again"),
		{ID: "again", Kind: KindObserve, Choices: []Choice{
			{ID: "yes", Exit: goTo("n", NoSignal)}, {ID: "no", Exit: goTo("both", NoSignal)}}},
		both, near,
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

func passed(e Entry) string {
	ids := lists.Each(e.Passed, func(g Passed) string { return g.Step.Step + ":" + g.Outcome.Text })
	return strings.Join(ids, " ")
}

func TestAChartThatIsKnownIsPassed(t *testing.T) {
	for _, c := range []struct {
		answers []string
		at      string // where the walk ends
		passed  string
	}{
		{[]string{"both", "5.00", "4.00", "no"}, "small", "both:near near:small"},
		{[]string{"both", "40.00", "4.00", "no"}, "far", "both:far"},
		{[]string{"both", "40.00", "4.00", "yes", "5.00", "4.00", "no"}, "small", "both:near near:small"},
		{[]string{"both", "5.00", "4.00", "yes", "40.00", "4.00", "no"}, "far", "both:far"},
		// A reading that could not be taken again leaves the one before; what was
		// never read is asked.
		{[]string{"both", "5.00", "4.00", "yes", "cannot: fell off", "4.00", "no"}, "small", "both:near near:small"},
		{[]string{"second", "4.00", "no"}, "both/n", ""},
		{[]string{"both", "OL", "4.00", "no"}, "far", "both:far"},
		// 14.1 - 4.0 is 10.1 V, and the meter errs by more: the figures shown decide.
		{[]string{"both", "14.1", "4.00", "no"}, "far", "both:far"},
		{[]string{"both", "13.5", "4.00", "no"}, "small", "both:near near:small"},
	} {
		w := must.Have(Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter()))(t)
		w = give(t, w, c.answers...)
		trail := w.Trail()
		last := trail[len(trail)-1]
		if w.At().Step != c.at || (c.passed != "" && last.Next != w.At()) || passed(last) != c.passed || len(trail) != len(c.answers) || last.RanOut {
			t.Errorf("%v: at %v after %q, ran out %v; want %s after %q", c.answers, w.At(), passed(last), last.RanOut, c.at, c.passed)
		}
		for _, e := range trail[:len(trail)-1] {
			if e.Passed != nil {
				t.Errorf("%v: step %v passed %q", c.answers, e.Step, passed(e))
			}
		}
		if last.Outcome.Text != "both" {
			t.Errorf("%v: the outcome of the question is %q", c.answers, last.Outcome.Text)
		}
	}
}

func TestAPassedChartSaysWhatItIsUnsureOf(t *testing.T) {
	w, _ := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
	trail := give(t, w, "both", "13.5", "4.00", "no").Trail()
	out := trail[3].Passed[0].Outcome
	if out.Certain || out.Advice == "" || len(out.Also) != 1 || out.Also[0].Signal != Danger || out.Text != "near" {
		t.Errorf("9.5 V with an error over 0.5 V gives %+v", out)
	}
	if got := w.Forest().Told(trail[3].Passed[0]); got != "The two together → close together" {
		t.Errorf("told as %q", got)
	}
}

func TestChartsArePassedAgainByBackAndChange(t *testing.T) {
	w, _ := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "5.00", "4.00", "no")
	if b := w.Back(); b.At().Step != "again" || len(b.Trail()) != 3 {
		t.Fatalf("back leads to %v", b.At())
	}
	r := must.Have(ParseReading("40.00", w.forest.Step(Ref{"t", "n"}).Measure[0].Quantity))(t)
	next, dropped, err := w.Change(1, Answer{Readings: []Reading{r}})
	if err != nil || len(dropped) > 0 || next.At().Step != "far" || passed(next.Trail()[3]) != "both:far" {
		t.Errorf("after the change: at %v, dropped %v, %v", next.At(), dropped, err)
	}
	if w.At().Step != "small" || passed(w.Trail()[3]) != "both:near near:small" {
		t.Error("the change altered the walk it was made from")
	}
}

func TestPassedDangerReachesTheHandOver(t *testing.T) {
	w, _ := Begin(pattern(), Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "60.00", "58.00", "no")
	if r, ok := w.Finding(); !ok || !r.HandedOver || r.Finding.Signal != Danger {
		t.Errorf("a chart of signal danger, handed over: %+v", r)
	}
}

func TestChartsInACircleEnd(t *testing.T) {
	f := pattern()
	f.Step(Ref{"t", "near"}).Chart.Rows[0].Exit = goTo("both", NoSignal)
	w, _ := Begin(f, Ref{Tree: "t"}, Owner, DefaultMeter())
	w = give(t, w, "both", "5.00", "4.00")
	if _, err := w.Answer(Answer{Choice: "no"}); err == nil || !strings.Contains(err.Error(), "circle") {
		t.Errorf("a circle of charts: %v", err)
	}
}

// A recheck that ran out behind a passed chart is still told apart.
func TestRecheckRunsOutBehindAPassedChart(t *testing.T) {
	f := pattern()
	f.Step(Ref{"t", "near"}).Chart.Rows[0].Exit = goTo("n", NoSignal)
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
