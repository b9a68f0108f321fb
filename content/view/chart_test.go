package view

import (
	"context"
	"os"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/faulttree"
)

// atPedestal stands before the chart of a pedestal, with the plug known.
func atPedestal(t *testing.T, plug string) (*content.Library, faulttree.Walk) {
	t.Helper()
	lib := load.FS(context.Background(), os.DirFS("../../testdata/pedestal"))
	w, err := faulttree.Begin(lib.Forest, faulttree.Ref{Tree: "pedestal"}, faulttree.Owner, faulttree.DefaultMeter())
	if err == nil {
		w, err = w.Answer(faulttree.Answer{Choice: plug})
	}
	if err != nil {
		t.Fatal(err)
	}
	return lib, w
}

func TestAColumnOfAChartIsAsked(t *testing.T) {
	lib, w := atPedestal(t, "50a")
	v, ok := StepIn(lib, w, 1)
	if !ok || v.Question != "Pedestal: ground to the spike" || len(v.Prose) == 0 || len(v.Asked) != 1 || v.Above != "Check a pedestal before plugging in · step 2 of about 8" {
		t.Errorf("the step is %+v", v)
	}
	if v.Why != "It is read first because the walk puts it before the others. It alone may lead to “The grounding contact is live”." {
		t.Errorf("why: %q", v.Why)
	}
	fact, _ := StepIn(lib, w, 0)
	if fact.Tree != "Check a pedestal before plugging in" || len(fact.Choices) != 2 {
		t.Errorf("the fact is %+v", fact)
	}
	if past := Trail(lib, w); len(past) != 1 || past[0].Title != "Which plug has the vehicle?" || past[0].Short != "50 A" {
		t.Errorf("the trail tells the fact as %+v", past)
	}
}

func TestTheOrderOfAChartIsTold(t *testing.T) {
	lib, _ := atPedestal(t, "50a")
	above, order := OrderOf(lib, lib.Forest.Step(faulttree.Ref{Tree: "pedestal", Step: "readings"}))
	if !strings.Contains(above, "the cheapest there is") || len(order) == 0 || order[0].Title != "Pedestal: ground to the spike" {
		t.Errorf("%s %+v", above, order)
	}
	if above, order = OrderOf(lib, lib.Forest.Step(faulttree.Ref{Tree: "pedestal", Step: "shown"})); len(order) != 0 {
		t.Errorf("a finding has an order: %s %+v", above, order)
	}
}

// All readings on one page are given to a chart in any order; what the plug rules
// out is not on it.
func TestReadingsOnOnePageReachAChart(t *testing.T) {
	for plug, rows := range map[string]int{"50a": 5, "30a": 3} {
		lib, w := atPedestal(t, plug)
		v := AllReadingsOf(lib, w, map[string]string{"pedestal.l1-n": "80", "pedestal.l2-n": "160", "pedestal.l1-l2": "240", "pedestal.n-g": "0.1"})
		if len(v.Rows) != rows || slices.ContainsFunc(v.Rows, func(a Asking) bool { return plug == "30a" && strings.Contains(a.Title, "L2") }) {
			t.Errorf("%s: %d rows, %+v", plug, len(v.Rows), v.Rows)
		}
		if v.Ahead != "; wanted next: Pedestal: ground to the spike." && plug == "50a" {
			t.Errorf("%s: %q", plug, v.Ahead)
		}
		v = AllReadingsOf(lib, w, map[string]string{"pedestal.n-g": "0.1", "pedestal.l1-n": "120", "pedestal.g-earth": "61"})
		if v.Stop != "The grounding contact is live" {
			t.Errorf("%s: a live ground tells %q, %q", plug, v.Stop, v.Problem)
		}
	}
}

func TestStretchesThatTouchAreToldAsOne(t *testing.T) {
	span := func(from, below faulttree.Amount) faulttree.Span {
		return faulttree.Span{From: from * faulttree.One, Below: below * faulttree.One}
	}
	if got := CellText(faulttree.Cell{Spans: []faulttree.Span{span(0, 30), span(30, 104), span(180, 200)}}, faulttree.VoltsAC); strings.Count(got, " or ") != 1 || strings.Contains(got, "30 V") {
		t.Errorf("told as %q", got)
	}
}

// OL in a cell is told as the meter shows it, also of a reading that the row was
// known by.
func TestACellTellsOverRangeAsTheMeterShowsIt(t *testing.T) {
	over := faulttree.Span{From: faulttree.OverTop, Below: faulttree.Highest}
	if got := CellText(faulttree.Cell{Spans: []faulttree.Span{{From: faulttree.One, Below: faulttree.Highest}, over}, NotTaken: true}, faulttree.Ohms); got != "1 Ω and more or OL or not taken" {
		t.Errorf("told as %q", got)
	}
}

// What may still come of a chart is told as its rows, by titles and figures: what
// was read is not told again, and what it rules out is not there.
func TestWhatMayStillComeOfAChart(t *testing.T) {
	lib, w := atPedestal(t, "50a")
	all, sums := Outcomes(lib, w)
	if len(all) != 19 || all[0].Headline() != "DANGER: The grounding contact is live" || all[0].Asks != "Pedestal: ground to the spike 30 V and more" {
		t.Errorf("at first %d rows are open, first %+v", len(all), all[0])
	}
	if last := all[len(all)-1]; last.Asks != "otherwise" || !slices.Contains(sums, "lack is (Pedestal: L1 to L2) − (Pedestal: L1 to neutral) − (Pedestal: L2 to neutral).") {
		t.Errorf("the last row asks %q; sums %q", last.Asks, sums)
	}
	w = give(t, w, "0.4", "80.0")
	left, _ := Outcomes(lib, w)
	var lost []string
	for _, o := range left {
		if strings.Contains(o.Asks, "ground to the spike") || strings.Contains(o.Asks, "L1 to neutral") {
			t.Errorf("what was read is told again: %+v", o)
		}
		if o.Title == "The neutral is lost, or nearly" {
			lost = append(lost, o.Asks)
		}
	}
	// One row wants this leg high, which it is not; bands that touch are one.
	if want := []string{"Pedestal: L2 to neutral 127 V and more; uneven up to -8 V", "Pedestal: L2 to neutral below 104 V; Pedestal: L1 to L2 198 V to below 218 V or 228 V and more; lack 6 V and more"}; !slices.Equal(lost, want) {
		t.Errorf("of the lost neutral is left %q", lost)
	}
	if rows, _ := Outcomes(lib, give(t, w, "160.0")); rows != nil {
		t.Errorf("the row is known, and %+v is told as open", rows)
	}
}

// No step of a handbook tells a sentence twice, by its method and its own words.
// Cautions stand in one line, the worst first, and are not listed as cards again.
func TestNoSentenceIsToldTwice(t *testing.T) {
	for _, lib := range []*content.Library{load.Shipped(), handbook(t), load.FS(context.Background(), os.DirFS("../../testdata/pedestal"))} {
		for _, tree := range lib.Forest.IDs() {
			for _, s := range lib.Forest.Trees[tree].Steps {
				for _, asked := range append(s.Columns(), s) {
					v := StepOf(lib, asked, 1)
					seen := map[string]bool{}
					for _, said := range Sentences(strings.Join(strings.Fields(document.Plain(v.Prose)), " ")) {
						if seen[said] && len(strings.Fields(said)) > 3 {
							t.Errorf("%s tells twice: %s", asked.Ref(), said)
						}
						seen[said] = true
					}
					if slices.ContainsFunc(v.Cards, func(l Link) bool { return l.Kind == KindCaution }) {
						t.Errorf("%s lists a caution among its cards: %v", asked.Ref(), v.Cards)
					}
				}
			}
		}
	}
}
