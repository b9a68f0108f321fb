package faulttree

import (
	"fmt"
	"strings"
)

// Outcome is where readings, a choice or an act lead.
type Outcome struct {
	Exit
	Branch  int    // index into Step.Branches; -1 where no numeric branch decided
	Certain bool   // the branch is certain, which never means the cause is
	Also    []Exit // other branches within the meter's uncertainty
	Advice  string // which limit the uncertainty touches, and what would help; "" when certain
}

// Judge decides where a measure step or a weigh step leads. Readings stand in
// the order of s.Measure. Where the uncertainty touches several branches the
// worst signal wins; among equals the branch that holds the displayed value.
// A reading that may hurt, as [Meter.MayHurt] has it, outranks another reading
// that was not possible.
//
// For derived values the test of "touches" combines the spans of the parts,
// so it can only call more branches touched than there are: it errs to the
// worse side.
//
// A step that asks a column of a chart is judged by the chart; where that leaves
// open which row it is, the outcome leads to the chart.
func (s *Step) Judge(readings []Reading, m Meter, danger DangerLimit) (Outcome, error) {
	if s.judge != nil && len(readings) == 1 {
		return s.judge(readings[0], m, danger)
	}
	if !s.Judges() || len(readings) != len(s.Measure) {
		return Outcome{}, fmt.Errorf("step %s takes %d readings, not %d", s.Ref(), len(s.Measure), len(readings))
	}
	spans := make([]Span, len(readings), len(readings)+len(s.Derive))
	shown := make([]Amount, len(readings), len(readings)+len(s.Derive))
	missing, over, hurts := false, false, false
	for i, r := range readings {
		q := s.Measure[i].Quantity
		if limit, limited := danger(q.ID); limited {
			hurts = hurts || m.MayHurt(r, q, limit)
		}
		spans[i] = m.Span(r, q)
		_, shown[i] = q.Judged(r.Low, r.High)
		if !r.Numeric() {
			spans[i], shown[i] = q.Domain(), Highest
		}
		over, missing = over || r.Quality == OverRange, missing || r.Quality == NotPossible
	}
	if over && s.OverRange.Set() && (hurts || !missing) {
		return s.exitWithout(s.OverRange), nil
	}
	touched := s.touched(spans)
	if missing || over {
		if worst := s.worst(touched, shown); hurts && worst >= 0 && s.Branches[worst].Signal == Danger {
			return s.outcome(worst, touched, readings, spans), nil
		}
		return s.exitWithout(s.NotPossible), nil
	}
	worst := s.worst(touched, shown)
	if worst < 0 {
		return Outcome{}, fmt.Errorf("step %s has no branch for %s", s.Ref(), s.words(readings))
	}
	return s.outcome(worst, touched, readings, spans), nil
}

func (s *Step) exitWithout(e Exit) Outcome { return Outcome{Exit: e, Branch: -1, Certain: true} }

// touched lists the branches that any combination of values in spans may take.
func (s *Step) touched(spans []Span) []int {
	all := spans
	for _, d := range s.Derive {
		all = append(all, d.Span(spans))
	}
	var out []int
next:
	for i, b := range s.Branches {
		for _, bound := range b.Bounds {
			if !bound.Span.Overlaps(all[bound.Var]) {
				continue next
			}
		}
		out = append(out, i)
	}
	return out
}

// worst picks from the touched branches: -1 if there is none.
func (s *Step) worst(touched []int, shown []Amount) int {
	all := shown
	for _, d := range s.Derive {
		all = append(all, d.at(shown))
	}
	best := -1
	for _, i := range touched {
		switch {
		case best < 0, s.Branches[i].Signal > s.Branches[best].Signal:
			best = i
		case s.Branches[i].Signal == s.Branches[best].Signal && s.Branches[i].holds(all):
			best = i
		}
	}
	return best
}

func (b Branch) holds(values []Amount) bool {
	for _, bound := range b.Bounds {
		if !bound.Span.Contains(values[bound.Var]) {
			return false
		}
	}
	return true
}

func (s *Step) outcome(branch int, touched []int, readings []Reading, spans []Span) Outcome {
	out := Outcome{Exit: s.Branches[branch].Exit, Branch: branch, Certain: len(touched) == 1}
	if out.Certain {
		return out
	}
	taken := "the figure shown decides"
	for _, i := range touched {
		if i == branch {
			continue
		}
		out.Also = append(out.Also, s.Branches[i].Exit)
		if s.Branches[i].Signal != s.Branches[branch].Signal {
			taken = "the worse side is taken"
		}
	}
	out.Advice = s.adviceOn(readings, spans, taken)
	return out
}

// adviceOn says which limit lies within the meter's uncertainty, which side is
// taken for it, and what to do.
func (s *Step) adviceOn(readings []Reading, spans []Span, taken string) string {
	for i, span := range spans {
		for _, b := range s.Branches {
			for _, bound := range b.Bounds {
				if bound.Var != i {
					continue
				}
				for _, edge := range []Amount{bound.Span.From, bound.Span.Below} {
					if edge == Lowest || edge == Highest || edge <= span.From || edge >= span.Below {
						continue
					}
					u := s.Measure[i].Quantity.Unit
					return fmt.Sprintf("%s is within the meter's uncertainty of %s, so %s. Read again on the smallest range that shows it, or with a better meter.",
						readings[i].Show(u), edge.Written().With(u), taken)
				}
			}
		}
	}
	return "The meter's uncertainty reaches more than one branch, so " + taken + ". Read again on the smallest range that shows the value."
}

func (s *Step) words(readings []Reading) string {
	var parts []string
	for i, r := range readings {
		parts = append(parts, s.Measure[i].Quantity.ID+" = "+r.Show(s.Measure[i].Quantity.Unit))
	}
	return strings.Join(parts, ", ")
}

// Span is the set of values d can take when its parts lie in spans.
func (d Derived) Span(spans []Span) Span {
	low, high := Amount(0), Amount(0)
	for _, t := range d.Terms {
		from, last := spans[t.Var].From, spans[t.Var].Below
		if last != Highest {
			last--
		}
		if t.Factor < 0 {
			from, last = last, from
		}
		low = addWhole(low, timesWhole(from, t.Factor))
		high = addWhole(high, timesWhole(last, t.Factor))
	}
	return Only(low, high)
}

// at is d's value at one point.
func (d Derived) at(values []Amount) Amount {
	sum := Amount(0)
	for _, t := range d.Terms {
		sum = addWhole(sum, timesWhole(values[t.Var], t.Factor))
	}
	return sum
}

// timesWhole and addWhole stop at Lowest and Highest instead of wrapping.
func timesWhole(a Amount, n int64) Amount {
	if n == 0 || a == 0 {
		return 0
	}
	p := a * Amount(n)
	if a == Lowest || a == Highest || p/Amount(n) != a {
		if (a < 0) == (n < 0) {
			return Highest
		}
		return Lowest
	}
	return p
}

func addWhole(a, b Amount) Amount {
	switch sum := a + b; {
	case a == Highest || b == Highest || a > 0 && b > 0 && sum < 0:
		return Highest
	case a == Lowest || b == Lowest || a < 0 && b < 0 && sum >= 0:
		return Lowest
	default:
		return sum
	}
}
