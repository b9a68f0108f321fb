package view

import (
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// Past is one answer given, as trail, terminal and sheet show it.
type Past struct {
	Index   int // into Walk.Trail
	Title   string
	Value   string // the whole answer: "119.8 V", "Yes, from the door", "done"
	Short   string // the same for a narrow column: enough to tell it from any other answer to the step
	Label   string // what the branch taken says of it
	Leads   string // title of the step it led to
	Signal  faulttree.Signal
	Lines   []Line   // at least one
	Known   string   // which charts were known after the answer, a line for each; "" for none
	Remarks []string // what else there is to say, in sentences
}

// KnownByThen stands before a chart that an answer made known without being asked
// for.
const KnownByThen = "Known by then: "

// Trail lists the answers of a walk.
func Trail(lib *content.Library, w faulttree.Walk) []Past {
	var out []Past
	for i, e := range w.Trail() {
		out = append(out, PastOf(lib, w, i, e))
	}
	return out
}

// PastOf is entry i of the trail of a walk, or one that was dropped from it.
func PastOf(lib *content.Library, w faulttree.Walk, i int, e faulttree.Entry) Past {
	p := Past{
		Index: i, Title: answerTitle(lib, e.Step), Label: e.Outcome.Label, Leads: stepTitle(lib, e.Next),
		Signal: e.Outcome.Signal, Lines: linesOf(lib, w, i, e),
	}
	var known []string
	for _, g := range e.Passed {
		known = append(known, KnownByThen+lib.Forest.Told(g))
		p.Signal = max(p.Signal, g.Outcome.Signal)
	}
	p.Known, p.Remarks = strings.Join(known, "\n"), remarks(lib, e)
	if s := w.Asked(e.Step); s != nil {
		p.Value, p.Short = AnswerText(s, e.Answer), shortAnswer(s, e.Answer)
	}
	return p
}

// answerTitle is what an answer to a step is called: the quantity where it is
// one reading, else the step.
func answerTitle(lib *content.Library, at faulttree.Ref) string {
	if s := lib.Forest.Step(at); s != nil && len(s.Measure) == 1 {
		return s.Measure[0].Quantity.Title
	}
	return strings.TrimRight(stepTitle(lib, at), ".:")
}

// quantityTitle is what a quantity is called, its id where there is no title.
func quantityTitle(lib *content.Library, id string) string {
	if q := lib.Forest.Quantities[id]; q.Title != "" {
		return q.Title
	}
	return id
}

// stepTitle is the title of a step, or its name where there is none.
func stepTitle(lib *content.Library, at faulttree.Ref) string {
	if s := lib.Forest.Step(at); s != nil {
		return s.Title
	}
	return at.String()
}

// remarks says of an answer what its value and branch do not: doubts about a
// reading, what lies within the meter's error, which charts were known by then, and whether
// the step was read as often as it may be.
func remarks(lib *content.Library, e faulttree.Entry) []string {
	var out []string
	for _, r := range e.Answer.Readings {
		if r.Note != "" {
			out = append(out, Sentence(r.Note))
		}
	}
	if !e.Outcome.Certain {
		out = append(out, e.Outcome.Advice)
		for _, also := range e.Outcome.Also {
			out = append(out, "Within the meter's uncertainty also: "+Sentence(stepTitle(lib, also.To)))
		}
	}
	for _, g := range e.Passed {
		out = append(out, KnownByThen+Sentence(lib.Forest.Told(g)))
		if !g.Outcome.Certain {
			out = append(out, g.Outcome.Advice)
		}
	}
	if e.RanOut {
		out = append(out, "Read as often as the step allows, so the walk went on elsewhere.")
	}
	return out
}

// AnswerText words an answer to a step in full.
func AnswerText(s *faulttree.Step, a faulttree.Answer) string {
	switch {
	case len(a.Readings) > 0:
		return readingsText(s, a, faulttree.Reading.Show)
	case a.Choice != "":
		return choiceText(s, a.Choice)
	case a.Done:
		return "done"
	}
	return ""
}

// shortAnswer is AnswerText for a narrow column: without the reason for what
// was not measured, and of a choice only as much as no other choice begins with.
func shortAnswer(s *faulttree.Step, a faulttree.Answer) string {
	switch {
	case len(a.Readings) > 0:
		return readingsText(s, a, func(r faulttree.Reading, u faulttree.Unit) string {
			r.Reason = ""
			return r.Show(u)
		})
	case a.Choice != "":
		return shortChoice(s, a.Choice)
	}
	return AnswerText(s, a)
}

// ReplyText words a recorded answer with what it is called. It does not need
// the step: a handbook may have lost it.
func ReplyText(lib *content.Library, r visit.Reply) string {
	title := answerTitle(lib, r.Step)
	if len(r.Readings) == 1 {
		title = quantityTitle(lib, r.Readings[0].Quantity)
	}
	return title + ": " + ReplyValue(lib, r)
}

// ReplyValue words a recorded answer alone. Of several readings each is named.
func ReplyValue(lib *content.Library, r visit.Reply) string {
	if len(r.Readings) == 0 {
		a := faulttree.Answer{Choice: r.Choice, Done: r.Choice == ""}
		if s := lib.Forest.Step(r.Step); s != nil {
			return AnswerText(s, a)
		}
		return AnswerText(&faulttree.Step{}, a)
	}
	var all []string
	for _, t := range r.Readings {
		shown := t.Reading.Show(t.Unit)
		if len(r.Readings) > 1 {
			shown = quantityTitle(lib, t.Quantity) + " " + shown
		}
		all = append(all, shown)
	}
	return strings.Join(all, ", ")
}

func readingsText(s *faulttree.Step, a faulttree.Answer, show func(faulttree.Reading, faulttree.Unit) string) string {
	var all []string
	for i, r := range a.Readings {
		if i < len(s.Measure) {
			all = append(all, show(r, s.Measure[i].Quantity.Unit))
		}
	}
	return strings.Join(all, ", ")
}

// choiceText is a choice as the step puts it, or its id where the step offers
// it no longer.
func choiceText(s *faulttree.Step, id string) string {
	for _, c := range s.Choices {
		if c.ID == id {
			return c.Text
		}
	}
	return id
}

// shortChoice cuts a choice at the first comma up to which no other choice of
// the step has the same words.
func shortChoice(s *faulttree.Step, id string) string {
	text := choiceText(s, id)
	for end, r := range text {
		if r != ',' {
			continue
		}
		alike := slices.ContainsFunc(s.Choices, func(c faulttree.Choice) bool {
			return c.ID != id && (c.Text == text[:end] || strings.HasPrefix(c.Text, text[:end+1]))
		})
		if !alike {
			return text[:end]
		}
	}
	return text
}

// LastReading is a quantity with the last reading of it in a walk.
type LastReading struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading
	Step     *faulttree.Step // where it was read
	Var      int             // its place in Step.Measure
}

// LastReadings lists what a walk has measured, each quantity once, in the order
// in which they were first asked. Where a quantity could not be read again, its
// last reading stands.
func LastReadings(w faulttree.Walk) []LastReading {
	var out []LastReading
	for _, e := range w.Trail() {
		s := w.Asked(e.Step)
		if s == nil || s.Kind != faulttree.KindMeasure {
			continue
		}
		for i, r := range e.Answer.Readings {
			if i >= len(s.Measure) {
				break
			}
			last := LastReading{s.Measure[i].Quantity, r, s, i}
			k := slices.IndexFunc(out, func(l LastReading) bool { return l.Quantity.ID == last.Quantity.ID })
			switch {
			case k < 0:
				out = append(out, last)
			case r.Quality != faulttree.NotPossible:
				out[k] = last
			}
		}
	}
	return out
}
