package faulttree

import (
	"fmt"
	"slices"
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

// Judge decides where a measure step leads. Readings stand in
// the order of s.Measure. The figure shown decides, except at a danger limit: a
// reading that may have reached it, as [Meter.MayHurt] has it, counts as over it,
// and outranks another reading that was not possible. A display that wanders
// shows several figures: of the branches that they touch the worst signal wins;
// among equals the branch that holds the highest figure.
//
// Whether the outcome is certain is another matter: it is where the meter's
// uncertainty touches no other branch. For derived values that test combines the
// spans of the parts, so it can only call more branches touched than there are.
//
// A step that asks a column of a chart is judged by the chart; where that leaves
// open which row it is, the outcome leads to the chart.
func (s *Step) Judge(readings []Reading, m Meter, danger DangerLimit) (Outcome, error) {
	if s.judge != nil && len(readings) == len(s.Measure) {
		return s.judge(readings, m, danger)
	}
	if s.Kind != KindMeasure || len(readings) != len(s.Measure) {
		return Outcome{}, fmt.Errorf("step %s takes %d readings, not %d", s.Ref(), len(s.Measure), len(readings))
	}
	room := len(readings) + len(s.Derive)
	spans, counts := make([]Span, len(readings), room), make([]Span, len(readings), room)
	all := make([]counted, len(readings))
	missing, over, hurts := false, false, false
	for i, r := range readings {
		q := s.Measure[i].Quantity
		all[i] = m.counted(r, q, danger)
		hurts = hurts || all[i].hurts
		spans[i], counts[i] = m.Span(r, q), Only(all[i].low, all[i].high).Meet(q.Domain())
		if !r.Numeric() {
			spans[i], counts[i] = q.Domain(), q.Domain()
		} else if counts[i].Empty() { // a figure beyond what the quantity can be
			counts[i] = spans[i]
		}
		over, missing = over || r.Quality == OverRange, missing || r.Quality == NotPossible
	}
	if over && s.OverRange.Set() && (hurts || !missing) {
		return s.exitWithout(s.OverRange), nil
	}
	branch := s.worst(s.touched(counts), counts)
	if missing || over {
		if hurts && branch >= 0 && s.Branches[branch].Signal == Danger {
			return s.outcome(branch, readings, spans, all), nil
		}
		return s.exitWithout(s.NotPossible), nil
	}
	if branch < 0 {
		return Outcome{}, fmt.Errorf("step %s has no branch for %s", s.Ref(), s.words(readings))
	}
	return s.outcome(branch, readings, spans, all), nil
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

// worst picks from the touched branches, -1 if there is none.
func (s *Step) worst(touched []int, counts []Span) int {
	var highest []Amount
	for _, c := range counts {
		last := c.Below
		if last != Highest {
			last--
		}
		highest = append(highest, last)
	}
	for _, d := range s.Derive {
		highest = append(highest, d.at(highest))
	}
	best := -1
	for _, i := range touched {
		switch {
		case best < 0, s.Branches[i].Signal > s.Branches[best].Signal:
			best = i
		case s.Branches[i].Signal == s.Branches[best].Signal && s.Branches[i].holds(highest):
			best = i
		}
	}
	return best
}

func (b Branch) holds(values []Amount) bool {
	return !slices.ContainsFunc(b.Bounds, func(bound Bound) bool { return !bound.Span.Contains(values[bound.Var]) })
}

func (s *Step) outcome(branch int, readings []Reading, spans []Span, all []counted) Outcome {
	touched := s.touched(spans)
	out := Outcome{Exit: s.Branches[branch].Exit, Branch: branch, Certain: len(touched) == 1}
	if out.Certain {
		return out
	}
	for _, i := range touched {
		if i != branch {
			out.Also = append(out.Also, s.Branches[i].Exit)
		}
	}
	out.Advice = s.adviceOn(readings, spans, all)
	return out
}

// adviceOn says which limit lies within the meter's uncertainty, a danger limit
// before any other, what decides there, and what to do.
func (s *Step) adviceOn(readings []Reading, spans []Span, all []counted) string {
	for i, c := range all {
		if c.raised {
			return straddles(readings[i], s.Measure[i].Quantity.Unit, c.high.Abs(), true)
		}
	}
	for i, span := range spans {
		for _, b := range s.Branches {
			for _, bound := range b.Bounds {
				if bound.Var != i {
					continue
				}
				for _, edge := range []Amount{bound.Span.From, bound.Span.Below} {
					if readings[i].Numeric() && edge != Lowest && edge != Highest && edge > span.From && edge < span.Below {
						return straddles(readings[i], s.Measure[i].Quantity.Unit, edge, false)
					}
				}
			}
		}
	}
	if slices.ContainsFunc(readings, func(r Reading) bool { return !r.Numeric() }) {
		return "A reading is missing beside one that may hurt, so the worst that fits counts. Read what is missing once nothing is live."
	}
	return "What is worked out from the readings is within the meter's uncertainty of a limit, so the figures shown decide. Read each again on the smallest range that shows it, or with a better meter."
}

// straddles words a reading within the meter's uncertainty of a limit: what
// decides, and what would settle it. Raised says that it counts as over the limit.
func straddles(r Reading, u Unit, limit Amount, raised bool) string {
	taken := "the figure shown decides"
	switch {
	case raised:
		taken = "it counts as over it"
	case r.Quality == Wandering:
		taken = "the worse side is taken"
	}
	return fmt.Sprintf("%s is within the meter's uncertainty of %s, so %s. Read again on the smallest range that shows it, or with a better meter.",
		r.Show(u), limit.Written().With(u), taken)
}

func (s *Step) words(readings []Reading) string {
	var parts []string
	for i, r := range readings {
		parts = append(parts, s.Measure[i].Quantity.ID+" = "+r.Show(s.Measure[i].Quantity.Unit))
	}
	return strings.Join(parts, ", ")
}

// Span is the set of values d can take when its parts lie in spans. OL less a
// negative figure is OL again, and nothing beyond.
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
	return Only(min(low, OverTop), high)
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
