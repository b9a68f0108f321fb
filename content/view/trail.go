package view

import (
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// Past is one answer given, as the trail shows it.
type Past struct {
	Index   int // into Walk.Trail
	Title   string
	Value   string // "119.8 V", "yes", "done"
	Signal  faulttree.Signal
	Certain bool
	Weighed string // what was looked at again after the answer, "" for nothing
}

// Trail lists the answers of a walk.
func Trail(lib *content.Library, w faulttree.Walk) []Past {
	var out []Past
	for i, e := range w.Trail() {
		out = append(out, PastOf(lib, i, e))
	}
	return out
}

// PastOf is one entry of a trail.
func PastOf(lib *content.Library, i int, e faulttree.Entry) Past {
	p := Past{Index: i, Title: e.Step.String(), Signal: e.Outcome.Signal, Certain: e.Outcome.Certain}
	s := lib.Forest.Step(e.Step)
	if s == nil {
		return p
	}
	p.Title = s.Title
	if len(s.Measure) == 1 {
		p.Title = s.Measure[0].Quantity.Title
	}
	p.Value, p.Weighed = AnswerText(s, e.Answer), WeighedText(lib, e)
	return p
}

// WeighedText is a line for each weigh step that was passed after an answer;
// "" if there was none.
func WeighedText(lib *content.Library, e faulttree.Entry) string {
	var lines []string
	for _, g := range e.Weighed {
		lines = append(lines, "Weighed: "+lib.Forest.Weighed(g))
	}
	return strings.Join(lines, "\n")
}

// AnswerText words an answer to a step.
func AnswerText(s *faulttree.Step, a faulttree.Answer) string {
	switch {
	case len(a.Readings) > 0:
		var all []string
		for i, r := range a.Readings {
			if i < len(s.Measure) {
				all = append(all, ReadingText(r, s.Measure[i].Quantity))
			}
		}
		return strings.Join(all, ", ")
	case a.Choice != "":
		for _, c := range s.Choices {
			if c.ID == a.Choice {
				short, _, _ := strings.Cut(c.Text, ",")
				return short
			}
		}
		return a.Choice
	case a.Done:
		return "done"
	}
	return ""
}

// ReadingText words a reading with its unit, whatever way it was typed.
func ReadingText(r faulttree.Reading, q faulttree.Quantity) string {
	switch r.Quality {
	case faulttree.OverRange:
		return "OL"
	case faulttree.NotPossible:
		return "not measured"
	}
	return r.Show(q.Unit)
}

// Change is what a different answer to an earlier step would do.
type Change struct {
	Next    faulttree.Walk
	Stand   []Past // later answers that still fit
	Dropped []Past // later answers that would be dropped
	Same    bool   // the new answer is the old one
}

// ChangeOf tries answer a for entry i of w, without doing it.
func ChangeOf(lib *content.Library, w faulttree.Walk, i int, a faulttree.Answer) (Change, error) {
	next, dropped, err := w.Change(i, a)
	if err != nil {
		return Change{}, err
	}
	c := Change{Next: next}
	old := w.Trail()
	for j, e := range next.Trail() {
		if j > i {
			c.Stand = append(c.Stand, PastOf(lib, j, e))
		}
	}
	for _, e := range dropped {
		c.Dropped = append(c.Dropped, PastOf(lib, 0, e))
	}
	c.Same = len(old) > i && AnswerText(lib.Forest.Step(old[i].Step), old[i].Answer) == AnswerText(lib.Forest.Step(old[i].Step), a)
	return c, nil
}

// Sentence says what the change does to the answers after it.
func (c Change) Sentence() string {
	switch {
	case len(c.Stand) == 0 && len(c.Dropped) == 0:
		return "No later answers are touched."
	case len(c.Dropped) == 0:
		return "Every later answer still stands: " + titles(c.Stand) + "."
	case len(c.Stand) == 0:
		return "These later answers no longer fit and will be dropped: " + titles(c.Dropped) + "."
	}
	return "These later answers no longer fit and will be dropped: " + titles(c.Dropped) + ". These still stand: " + titles(c.Stand) + "."
}

func titles(all []Past) string {
	var out []string
	for _, p := range all {
		t := p.Title
		if p.Value != "" {
			t += " (" + p.Value + ")"
		}
		out = append(out, t)
	}
	return strings.Join(out, "; ")
}
