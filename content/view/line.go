package view

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Line is one row of an answer: a reading, a sum of readings that decided, a
// choice or an act.
type Line struct {
	Title       string // of the quantity, or of the step
	Value       string // "119.8 V", "OL", "not measured: fence in the way", "done"
	Uncertainty string // "±0.7 V"; "" if there is none
	Range       string // what the branch taken asks of it: "30 V and more"
	Label       string // what the branch says of it, where it is about this reading alone
	Signal      faulttree.Signal
	Certain     bool
	Read        bool // a reading stands here, taken or not
	Taken       bool // the reading was taken, as the count of readings counts it
	Quantity    faulttree.Quantity
}

// Shown is the value with its uncertainty: "58 V ±1.2 V".
func (l Line) Shown() string { return strings.TrimSpace(l.Value + " " + l.Uncertainty) }

// Band says where a reading lies in the step that took it: "30 V and more,
// stop". It is empty where there is nothing to say.
func (l Line) Band() string {
	parts := lists.Where([]string{l.Range, l.Label}, func(part string) bool { return part != "" })
	if !l.Certain {
		parts = append(parts, "within the meter's error of a limit")
	}
	return strings.Join(parts, ", ")
}

// Meaning is Band behind the signal word: "DANGER: 30 V and more, stop".
func (l Line) Meaning() string { return headline(l.Signal, l.Band()) }

// headline puts a signal word before text.
func headline(s faulttree.Signal, text string) string {
	if word := s.Word(); word != "" {
		return strings.TrimSuffix(word+": "+text, ": ")
	}
	return text
}

// Unjudged is a reading that no step took.
func Unjudged(w faulttree.Walk, q faulttree.Quantity, r faulttree.Reading) Line {
	return Line{
		Title: q.Title, Value: r.Show(q.Unit), Uncertainty: Uncertainty(r, q, w.Meter()), Certain: true,
		Read: true, Taken: r.Quality != faulttree.NotPossible, Quantity: q,
	}
}

// linesOf words the answer e, number i of a walk's trail from 0 or one that was
// dropped from there. A reading bears the signal that its own value brought, everything else that of the
// branch.
func linesOf(lib *content.Library, w faulttree.Walk, i int, e faulttree.Entry) []Line {
	answer := Line{Title: e.Step.String(), Signal: e.Outcome.Signal, Certain: e.Outcome.Certain}
	s := w.Asked(e.Step)
	if s == nil {
		return []Line{answer}
	}
	var out []Line
	for j, r := range e.Answer.Readings {
		if j >= len(s.Measure) {
			break
		}
		l := Unjudged(w, s.Measure[j].Quantity, r)
		l.Range, l.Certain = cmp.Or(rowText(w, i, e, s.Measure[j], r), rangeText(s, e.Outcome, r, j)), e.Outcome.Certain
		l.Signal = s.Bears(j, r, e.Outcome, w.Meter(), dangerOf(lib, s))
		if len(s.Measure) == 1 && len(s.Derive) == 0 && l.Taken {
			l.Label = e.Outcome.Label
		}
		out = append(out, l)
	}
	if l, ok := derivedLine(s, e); ok {
		out = append(out, l)
	}
	if len(out) == 0 {
		answer.Title, answer.Value = s.Title, AnswerText(s, e.Answer)
		return []Line{answer}
	}
	return out
}

// rangeText words what the branch taken asks of variable j.
func rangeText(s *faulttree.Step, o faulttree.Outcome, r faulttree.Reading, j int) string {
	switch {
	case r.Quality == faulttree.OverRange:
		return overRange
	case r.Quality == faulttree.NotPossible || o.Branch < 0 || o.Branch >= len(s.Branches):
		return ""
	}
	for _, b := range s.Branches[o.Branch].Bounds {
		if b.Var == j {
			return b.Span.Format(s.Measure[j].Quantity.Unit)
		}
	}
	return ""
}

// rowText words what the row that a chart came to asks of a reading of it, whether
// that reading settled the row or one asked after it.
func rowText(w faulttree.Walk, i int, e faulttree.Entry, read faulttree.Variable, r faulttree.Reading) string {
	ref, _, ok := e.Step.Chart()
	chart := w.Asked(ref)
	if !ok || r.Quality == faulttree.NotPossible || chart == nil || chart.Chart == nil {
		return ""
	}
	c := slices.IndexFunc(chart.Measure, func(v faulttree.Variable) bool { return v.Name == read.Name })
	to := rowOf(w, i, e, ref)
	for _, row := range chart.Chart.Rows {
		if c >= 0 && row.Exit == to {
			return CellText(faulttree.Cell{Spans: row.Cells[c].Spans}, chart.Measure[c].Quantity.Unit)
		}
	}
	return ""
}

// rowOf is where the chart led that answer i tells of: by that answer, or by a later
// one of those that it was asked along with.
func rowOf(w faulttree.Walk, i int, e faulttree.Entry, chart faulttree.Ref) faulttree.Exit {
	to := e.Outcome.Exit
	for _, later := range w.Trail()[min(i+1, len(w.Trail())):] {
		if at, _, _ := later.Step.Chart(); to.To != chart || at != chart {
			break
		}
		to = later.Outcome.Exit
	}
	return to
}

// CellText words what a row of a chart asks of a column: "above 1 Ω or OL or not
// taken"; "" for nothing. Stretches of values that touch are one.
func CellText(c faulttree.Cell, u faulttree.Unit) string {
	all := lists.Each(Joined(c.Spans), func(s faulttree.Span) string {
		if s.From >= faulttree.OverTop {
			return "OL"
		}
		return s.Format(u)
	})
	if c.NotTaken {
		all = append(all, "not taken")
	}
	return strings.Join(all, " or ")
}

// Joined is stretches of values in their order, those that touch as one. OL stays by
// itself.
func Joined(spans []faulttree.Span) []faulttree.Span {
	var out []faulttree.Span
	for _, s := range slices.SortedFunc(slices.Values(spans), func(a, b faulttree.Span) int { return cmp.Compare(a.From, b.From) }) {
		if n := len(out) - 1; n >= 0 && out[n].Below >= s.From && s.From < faulttree.OverTop {
			out[n].Below = max(out[n].Below, s.Below)
			continue
		}
		out = append(out, s)
	}
	return out
}

// derivedLine names what the branch taken asks of sums and differences.
func derivedLine(s *faulttree.Step, e faulttree.Entry) (Line, bool) {
	if e.Outcome.Branch < 0 || e.Outcome.Branch >= len(s.Branches) {
		return Line{}, false
	}
	var names, spans []string
	for _, b := range s.Branches[e.Outcome.Branch].Bounds {
		if k := b.Var - len(s.Measure); k >= 0 && k < len(s.Derive) {
			names = append(names, sumText(s, s.Derive[k]))
			spans = append(spans, b.Span.Format(s.Derive[k].Unit))
		}
	}
	return Line{
		Title: "Computed: " + strings.Join(names, "; "), Range: strings.Join(spans, "; "),
		Label: e.Outcome.Label, Signal: e.Outcome.Signal, Certain: e.Outcome.Certain,
	}, len(names) > 0
}

// SumText words a derived value by what each variable is called: "(Battery at rest) −
// 2 × (Battery under load)".
func SumText(d faulttree.Derived, called func(variable int) string) string {
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
		b.WriteString(called(t.Var))
	}
	return b.String()
}

// sumText names the quantities of a derived value.
func sumText(s *faulttree.Step, d faulttree.Derived) string {
	return SumText(d, func(i int) string { return "(" + s.Measure[i].Quantity.Title + ")" })
}
