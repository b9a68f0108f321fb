package gui

import (
	"strings"
	"testing"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/source"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// An author sees of a step what its page shows: each limit and choice with where it
// leads, how meter and vehicle stand, the ruler, and of a finding what is to be done and
// what not. It is so for every step of the handbook as it is written.
func TestTheEditedStepShowsItsLimits(t *testing.T) {
	w := open(t, wide, shipped)
	seen := map[source.Pos]bool{}
	forest := w.session.Book().Forest
	for _, id := range forest.IDs() {
		for _, s := range forest.Trees[id].Steps {
			if seen[s.Pos] {
				continue // a fragment's, in another tree
			}
			seen[s.Pos] = true
			w.Go(place.Edited(s.Pos.File, s.Pos.Line))
			text := strings.Join(strings.Fields(w.Text()), " ")
			for _, want := range shownOf(w, s) {
				if want = strings.Join(strings.Fields(want), " "); !strings.Contains(text, want) {
					t.Errorf("%s: the page beside the text does not show %q", s.Ref(), want)
				}
			}
			if rulers := len(frametest.Find[*look.Ruler](w.Reader)); (rulers > 0) != (len(s.Ruler()) > 0) {
				t.Errorf("%s has %d rulers", s.Ref(), rulers)
			}
		}
	}
}

// shownOf is what the page of a step has to show, from the step alone.
func shownOf(w *window, s *faulttree.Step) []string {
	want := []string{s.Title}
	if s.Kind == faulttree.KindMeasure {
		for _, m := range s.Measure {
			want = append(want, m.Quantity.Title, m.Quantity.Unit.Function())
		}
		for _, b := range s.Branches {
			for _, bound := range b.Bounds {
				if bound.Var < len(s.Measure) {
					want = append(want, bound.Span.Format(s.Measure[bound.Var].Quantity.Unit))
				}
			}
		}
	}
	if s.Kind == faulttree.KindChart {
		for _, m := range s.Measure {
			want = append(want, m.Quantity.Title)
		}
	}
	for _, e := range s.Exits() {
		want = append(want, e.Label)
		if to := w.session.Book().Forest.Step(e.To); to != nil {
			want = append(want, to.Title)
		}
	}
	for _, c := range s.Choices {
		want = append(want, c.Text)
	}
	if s.Kind == faulttree.KindFinding {
		v := view.ResultOf(w.session.Book(), faulttree.Result{Ref: s.Ref(), Title: s.Title, For: s.For, Finding: s.Finding})
		want = append(append(append(want, v.RepairBy), v.Do...), v.DoNot...)
	}
	return want
}
