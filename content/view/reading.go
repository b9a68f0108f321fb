package view

import (
	"fmt"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// Typed is what stands in one reading entry, understood.
type Typed struct {
	Reading     faulttree.Reading
	Taken       bool   // it is a reading
	Uncertainty string // "±0.7 V"; "" if there is nothing to say
	Problem     string // why it is none, as a sentence; "" while empty
	Note        string // a doubt worth telling
}

// Read understands what is typed for a quantity.
func Read(text string, q faulttree.Quantity, m faulttree.Meter) Typed {
	var t Typed
	if strings.TrimSpace(text) == "" {
		return t
	}
	r, err := faulttree.ParseReading(text, q)
	if err != nil {
		t.Problem = Sentence(err.Error())
		return t
	}
	t.Reading, t.Taken, t.Note = r, true, r.Note
	t.Uncertainty = Uncertainty(r, q, m)
	return t
}

// Judged says where a step leads with the readings typed so far.
type Judged struct {
	Typed   []Typed
	Ready   bool             // every quantity is read; the outcome can be taken
	Signal  faulttree.Signal // of the outcome
	Leads   string           // "Leads to: stop, unplug"
	Advice  string           // what would settle it, or how clear of the limit it is
	Certain bool
	To      faulttree.Ref // the step it leads to
	Answer  faulttree.Answer
}

// Problem is the first thing that keeps the readings from being taken.
func (v Judged) Problem() string {
	for _, t := range v.Typed {
		if t.Problem != "" {
			return t.Problem
		}
	}
	return ""
}

// Judge understands what is typed for each quantity of a measure step and,
// once all are readings, says which way the step will go.
func Judge(lib *content.Library, s *faulttree.Step, m faulttree.Meter, texts []string) Judged {
	var v Judged
	v.Ready = true
	for i, variable := range s.Measure {
		text := ""
		if i < len(texts) {
			text = texts[i]
		}
		t := Read(text, variable.Quantity, m)
		v.Typed = append(v.Typed, t)
		v.Answer.Readings = append(v.Answer.Readings, t.Reading)
		v.Ready = v.Ready && t.Taken
	}
	if !v.Ready {
		v.Answer = faulttree.Answer{}
		return v
	}
	out, err := s.Judge(v.Answer.Readings, m, dangerOf(lib, s))
	if err != nil {
		v.Ready, v.Answer = false, faulttree.Answer{}
		v.Typed[len(v.Typed)-1].Problem = Sentence(err.Error())
		return v
	}
	v.Signal, v.Certain, v.To = out.Signal, out.Certain, out.To
	switch chart, _, column := s.Ref().Chart(); {
	case column && out.To == chart:
		v.Leads = "Not known yet: another reading is asked"
	case column: // no ruler shows its signal
		v.Leads = "Leads to: " + headline(out.Signal, exitLabel(lib, out.Exit))
	default:
		v.Leads = "Leads to: " + exitLabel(lib, out.Exit)
	}
	v.Advice = Sentence(out.Advice)
	if out.Certain && len(s.Measure) == 1 {
		v.Advice = clearance(s, v.Answer.Readings[0], m)
	}
	return v
}

func dangerOf(lib *content.Library, s *faulttree.Step) faulttree.DangerLimit {
	if t := lib.Forest.Trees[s.Tree]; t != nil {
		return t.DangerLimit
	}
	return func(string) (faulttree.Amount, bool) { return 0, false }
}

// clearance words how a certain reading lies to the nearest limit of its step.
func clearance(s *faulttree.Step, r faulttree.Reading, m faulttree.Meter) string {
	q := s.Measure[0].Quantity
	switch r.Quality {
	case faulttree.OverRange:
		return Capital(overRange) + " counts as above every limit."
	case faulttree.NotPossible:
		return ""
	}
	span := m.Span(r, q)
	var limit, distance faulttree.Amount
	found := false
	for _, seg := range s.Ruler() {
		for _, edge := range []faulttree.Amount{seg.Span.From, seg.Span.Below} {
			if edge == faulttree.Lowest || edge == faulttree.Highest || edge == q.Domain().From {
				continue
			}
			d := max(span.From-edge, edge-span.Below)
			if !found || d < distance {
				limit, distance, found = edge, d, true
			}
		}
	}
	if !found {
		return ""
	}
	side := "Above"
	if span.From < limit {
		side = "Below"
	}
	return fmt.Sprintf("%s the %s limit by more than the meter's error; nothing to settle.", side, limit.Written().With(q.Unit))
}
