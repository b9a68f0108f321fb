package sheet

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
)

// rows words every answer of a walk: a line for each reading, choice and act.
func rows(w faulttree.Walk) []row {
	var out []row
	for i, e := range w.Trail() {
		number := fmt.Sprint(i + 1)
		s := w.Forest().Step(e.Step)
		if s == nil {
			out = append(out, row{number: number, what: e.Step.String(), leads: title(w, e.Next), signal: e.Outcome.Signal})
			continue
		}
		lines := stepRows(w, s, e)
		last := &lines[len(lines)-1]
		last.leads, last.signal = title(w, e.Next), e.Outcome.Signal
		if !e.Outcome.Certain {
			last.remarks = append(last.remarks, e.Outcome.Advice)
			for _, also := range e.Outcome.Also {
				last.remarks = append(last.remarks, "Within the meter's uncertainty also: "+title(w, also.To)+".")
			}
		}
		for _, g := range e.Weighed {
			last.remarks = append(last.remarks, "Weighed: "+w.Forest().Weighed(g)+".")
			if !g.Outcome.Certain {
				last.remarks = append(last.remarks, g.Outcome.Advice)
			}
			last.signal = max(last.signal, g.Outcome.Signal)
		}
		if e.RanOut() {
			last.remarks = append(last.remarks, "Read as often as the step allows, so the walk went on elsewhere.")
		}
		lines[0].number = number
		out = append(out, lines...)
	}
	return out
}

// stepRows words one answer, without where it led.
func stepRows(w faulttree.Walk, s *faulttree.Step, e faulttree.Entry) []row {
	switch s.Kind {
	case faulttree.KindObserve:
		return []row{{what: s.Title, shown: choiceWords(s, e.Answer.Choice)}}
	case faulttree.KindAct:
		return []row{{what: s.Title, shown: "done"}}
	}
	var out []row
	for i, r := range e.Answer.Readings {
		if i >= len(s.Measure) {
			break
		}
		q := s.Measure[i].Quantity
		line := row{what: q.Title, shown: r.Show(q.Unit), met: met(s, e.Outcome, r, i)}
		if r.Numeric() {
			line.within = "± " + uncertainty(w.Meter().Uncertainty(r, q), q.Unit)
		}
		if r.Note != "" {
			line.remarks = append(line.remarks, r.Note)
		}
		out = append(out, line)
	}
	if derived := derivedRow(s, e); derived.what != "" {
		out = append(out, derived)
	}
	if len(out) == 0 {
		out = []row{{what: s.Title}}
	}
	return out
}

// unaskedRow words a reading that no step took.
func unaskedRow(w faulttree.Walk, m Measured) row {
	line := row{what: m.Quantity.Title, shown: m.Reading.Show(m.Quantity.Unit), met: "not judged"}
	if m.Reading.Numeric() && w.Forest() != nil {
		line.within = "± " + uncertainty(w.Meter().Uncertainty(m.Reading, m.Quantity), m.Quantity.Unit)
	}
	return line
}

// uncertainty rounds up to two figures, so that it never looks smaller.
func uncertainty(u faulttree.Amount, unit faulttree.Unit) string {
	step := faulttree.Amount(1)
	for u >= 100*step {
		step *= 10
	}
	return u.RoundUp(step).With(unit)
}

// met is what the branch taken asks of variable i.
func met(s *faulttree.Step, out faulttree.Outcome, r faulttree.Reading, i int) string {
	switch {
	case r.Quality == faulttree.OverRange:
		return "over-range"
	case r.Quality == faulttree.NotPossible:
		return "not read"
	case out.Branch < 0 || out.Branch >= len(s.Branches):
		return "did not decide"
	}
	unit := s.Measure[i].Quantity.Unit
	for _, b := range s.Branches[out.Branch].Bounds {
		if b.Var == i {
			return b.Span.Format(unit)
		}
	}
	return "any reading"
}

// derivedRow names what the branch asks of sums and differences.
func derivedRow(s *faulttree.Step, e faulttree.Entry) row {
	if e.Outcome.Branch < 0 || e.Outcome.Branch >= len(s.Branches) {
		return row{}
	}
	var names, spans []string
	for _, b := range s.Branches[e.Outcome.Branch].Bounds {
		if k := b.Var - len(s.Measure); k >= 0 && k < len(s.Derive) {
			names = append(names, combination(s, s.Derive[k]))
			spans = append(spans, b.Span.Format(s.Derive[k].Unit))
		}
	}
	if len(names) == 0 {
		return row{}
	}
	return row{what: "Computed: " + strings.Join(names, "; "), met: strings.Join(spans, "; ")}
}

func combination(s *faulttree.Step, d faulttree.Derived) string {
	var b strings.Builder
	for i, t := range d.Terms {
		factor := t.Factor
		switch {
		case i == 0 && factor < 0:
			b.WriteString("−")
		case i > 0 && factor < 0:
			b.WriteString(" − ")
		case i > 0:
			b.WriteString(" + ")
		}
		if factor < 0 {
			factor = -factor
		}
		if factor != 1 {
			fmt.Fprintf(&b, "%d × ", factor)
		}
		b.WriteString("(" + s.Measure[t.Var].Quantity.Title + ")")
	}
	return b.String()
}

// retests lists each quantity once, with its last reading, for the test after
// repair.
func retests(w faulttree.Walk) []retest {
	var out []retest
	at := map[string]int{}
	for _, e := range w.Trail() {
		s := w.Forest().Step(e.Step)
		if s == nil || s.Kind != faulttree.KindMeasure {
			continue
		}
		for i, r := range e.Answer.Readings {
			if i >= len(s.Measure) {
				break
			}
			q := s.Measure[i].Quantity
			line := retest{q.Title, r.Show(q.Unit), wanted(s, i)}
			if k, ok := at[q.ID]; ok {
				out[k] = line
				continue
			}
			at[q.ID] = len(out)
			out = append(out, line)
		}
	}
	return out
}

// wanted is what the branches without a signal word ask of variable i.
func wanted(s *faulttree.Step, i int) string {
	var spans []string
	for _, b := range s.Branches {
		if b.Signal != faulttree.NoSignal {
			continue
		}
		for _, bound := range b.Bounds {
			if bound.Var != i {
				continue
			}
			words := bound.Span.Format(s.Measure[i].Quantity.Unit)
			if len(spans) == 0 || spans[len(spans)-1] != words {
				spans = append(spans, words)
			}
		}
	}
	return strings.Join(spans, ", or ")
}
