package faulttree

import (
	"fmt"
	"slices"
)

// evaluate says where the chart s leads by the readings known, one for each
// column that has one. Where they leave the row open, the outcome leads to the
// chart itself and ask is the column to read next; otherwise ask is -1.
//
// The figure shown decides, except at a danger limit: a reading that may have
// reached it counts as over it.
func (s *Step) evaluate(known []*Reading, m Meter, danger DangerLimit) (out Outcome, ask int, err error) {
	if s.Chart == nil {
		return out, -1, fmt.Errorf("the chart of step %s could not be read", s.Ref())
	}
	t := s.compiled()
	if t.cramped != "" {
		return out, -1, fmt.Errorf("the column %s of chart %s has more than %d different limits", t.cramped, s.Ref(), MostSegments)
	}
	k := t.knowing(known, m, danger)
	row, decided := t.row(k.box)
	if !decided && k.hurts {
		row, decided = t.worst(k.box, Danger)
	}
	if decided {
		return k.outcome(row, m), -1, nil
	}
	switch ask = t.next(k); {
	case ask >= 0 && known[ask] != nil: // it is wanted, and could not be taken
		return s.exitWithout(s.NotPossible), -1, nil
	case ask >= 0:
		return s.exitWithout(Exit{Text: s.ID, To: s.Ref(), Pos: s.Pos}), ask, nil
	case k.missing():
		return s.exitWithout(s.NotPossible), -1, nil
	}
	if row, decided = t.worst(k.box, NoSignal); decided { // a reading wandered over a limit
		return k.outcome(row, m), -1, nil
	}
	return out, -1, fmt.Errorf("no row of chart %s fits the readings", s.Ref())
}

// tells reports whether one row of the chart s is left by the readings known.
func (s *Step) tells(known []*Reading, m Meter, danger DangerLimit) bool {
	if s.Chart == nil || s.compiled().cramped != "" {
		return false
	}
	_, decided := s.compiled().row(s.compiled().knowing(known, m, danger).box)
	return decided
}

// EndangersAlone reports whether r of its column c leaves the chart s nothing but
// rows of DANGER, whatever else is read, where it has others.
func (s *Step) EndangersAlone(c int, r Reading, m Meter, danger DangerLimit) bool {
	known := make([]*Reading, len(s.Measure))
	known[c] = &r
	return s.leavesOnly(known, m, danger, func(e Exit) bool { return e.Signal == Danger })
}

// leavesOnly reports whether the readings known, one for each column that has one, leave
// the chart s nothing but rows of a kind, whatever else is read, where it has others.
func (s *Step) leavesOnly(known []*Reading, m Meter, danger DangerLimit, kind func(Exit) bool) bool {
	t := s.compiled()
	if t.cramped != "" || !slices.ContainsFunc(s.Chart.Rows, func(row Row) bool { return !kind(row.Exit) }) {
		return false
	}
	work := searchWork
	return t.visit(t.knowing(known, m, danger).box, 0, &work, func(row int, _ box) bool {
		return row < 0 || kind(s.Chart.Rows[row].Exit)
	})
}

// knowledge is what the readings tell of the columns of a chart.
type knowledge struct {
	*table
	box
	readings []*Reading
	hurts    bool   // one of them may have reached its danger limit
	raised   []bool // by column, it counts as over its limit without showing it
}

func (t *table) knowing(known []*Reading, m Meter, danger DangerLimit) knowledge {
	k := knowledge{table: t, box: t.all(), readings: known, raised: make([]bool, t.measure)}
	for c, r := range known {
		q := t.step.Measure[c].Quantity
		switch {
		case r == nil:
			continue
		case r.Quality == NotPossible:
			if t.full[c]>>notTaken&1 == 1 {
				k.masks[c] = 1 << notTaken
			}
			continue
		}
		counts := m.counted(*r, q, danger)
		k.hurts, k.raised[c] = k.hurts || counts.hurts, counts.raised
		k.values[c] = Only(counts.low, counts.high)
		k.masks[c] = t.mask(c, k.values[c:c+1])
	}
	for i, d := range t.step.Derive {
		k.sum(t.measure+i, d)
	}
	return k
}

// sum notes what column c shows, a sum of which every part is known: nothing
// where a part was not taken. OL counts as more than anything, as it does by
// itself.
func (k knowledge) sum(c int, d Derived) {
	values, wanders := make([]Amount, k.measure), false
	for _, term := range d.Terms {
		r := k.readings[term.Var]
		switch {
		case k.masks[term.Var] == 1<<notTaken:
			k.masks[c] = 1 << notTaken
			return
		case r == nil || r.Quality == NotPossible:
			return
		}
		values[term.Var] = k.values[term.Var].From
		wanders = wanders || r.Quality == Wandering
	}
	switch {
	case len(d.Terms) == 0:
	case wanders:
		k.masks[c] = k.mask(c, []Span{d.Span(k.values)})
	default:
		k.masks[c] = 1 << k.at(c, min(d.at(values), OverTop)) // OL less a negative figure is OL
	}
}

// missing reports whether a reading could not be taken.
func (k knowledge) missing() bool {
	return slices.ContainsFunc(k.readings, func(r *Reading) bool { return r != nil && r.Quality == NotPossible })
}

// worst is the row of the worst signal that may fit, of equal ones the first;
// false where all are below least.
func (t *table) worst(b box, least Signal) (row int, found bool) {
	work := searchWork
	row = -1
	rows := t.step.Chart.Rows
	t.visit(b, 0, &work, func(r int, _ box) bool {
		if r >= 0 && rows[r].Signal >= least && (row < 0 || rows[r].Signal > rows[row].Signal || rows[r].Signal == rows[row].Signal && r < row) {
			row = r
		}
		return true
	})
	return row, row >= 0
}

// outcome is where a row leads, and how far the meter's error leaves that open.
func (k knowledge) outcome(row int, m Meter) Outcome {
	s := k.step
	out := Outcome{Exit: s.Chart.Rows[row].Exit, Branch: -1, Certain: true}
	var parts []Span
	for c, r := range k.readings {
		parts = append(parts, k.domain[c])
		if r == nil || r.Quality == NotPossible {
			continue
		}
		parts[c] = Only(OverTop, OverTop)
		if r.Numeric() {
			parts[c] = m.Span(*r, s.Measure[c].Quantity)
		}
		if edge, open := k.open(c, parts[c], row, nil, &out); open && out.Advice == "" {
			out.Advice = straddles(*r, s.Measure[c].Quantity.Unit, edge, k.raised[c])
		}
	}
	for i, d := range s.Derive {
		c := k.measure + i
		known := len(d.Terms) > 0
		for _, term := range d.Terms {
			r := k.readings[term.Var]
			known = known && r != nil && r.Numeric()
		}
		if !known {
			continue
		}
		if edge, open := k.open(c, d.shown(k.readings, s.Measure, m), row, parts, &out); open && out.Advice == "" {
			out.Advice = fmt.Sprintf("%s, worked out from readings, is within the meter's uncertainty of %s, so the figures shown decide. Read each again on the smallest range that shows it, or with a better meter.",
				d.Name, edge.Written().With(d.Unit))
		}
	}
	return out
}

// shown is the span of values that a sum of readings can mean. What a meter is off
// by in percent is common to readings on one of its ranges, so of the sum only
// that percentage counts; the counts of each reading add up.
func (d Derived) shown(readings []*Reading, variables []Variable, m Meter) Span {
	low, high, counts, percent := Amount(0), Amount(0), Amount(0), Amount(0)
	first := variables[d.Terms[0].Var].Quantity
	on := m.taken(*readings[d.Terms[0].Var], first)
	alike := true
	for _, t := range d.Terms {
		q, r := variables[t.Var].Quantity, readings[t.Var]
		a, b := q.Judged(r.Low, r.High)
		if t.Factor < 0 {
			a, b = b, a
		}
		low, high = addWhole(low, timesWhole(a, t.Factor)), addWhole(high, timesWhole(b, t.Factor))
		its := m.taken(*r, q)
		own := percentOf(max(r.Low.Abs(), r.High.Abs()), its.Percent)
		size := max(t.Factor, -t.Factor)
		counts = addWhole(counts, timesWhole(m.Uncertainty(*r, q)-own, size))
		percent = addWhole(percent, timesWhole(own, size))
		alike = alike && q.Range == first.Range && q.Unit == first.Unit && its.Accuracy == on.Accuracy
	}
	if alike {
		percent = percentOf(max(low.Abs(), high.Abs()), on.Percent)
	}
	off := addWhole(counts, percent)
	return Only(addWhole(low, -off), addWhole(high, off))
}

// open reports whether another value of column c within a span leads elsewhere
// than row, and at which limit. Parts are where the parts of a sum may lie. The
// rows it may lead to join out.Also.
func (k knowledge) open(c int, span Span, row int, parts []Span, out *Outcome) (limit Amount, open bool) {
	for i := range k.cuts[c] {
		segment := k.segment(c, i)
		if !segment.Overlaps(span) || k.masks[c] == 1<<i {
			continue
		}
		b := k.box.with(c, 1<<i)
		if c < k.measure {
			b.values = append([]Span(nil), b.values...)
			b.values[c] = segment.Meet(span)
			for j, d := range k.step.Derive { // its sums change with it
				if slices.ContainsFunc(d.Terms, func(t Term) bool { return t.Var == c }) {
					b = b.with(k.measure+j, k.full[k.measure+j])
				}
			}
		} else {
			b.values = parts
		}
		work := searchWork
		k.visit(b, 0, &work, func(r int, _ box) bool {
			if r < 0 || k.leads[r] == k.leads[row] {
				return true
			}
			limit, open, out.Certain = segment.From, true, false
			if k.cuts[c][i] < span.From {
				limit = segment.Below
			}
			e := k.step.Chart.Rows[r].Exit
			if !slices.ContainsFunc(out.Also, func(also Exit) bool { return also.To == e.To }) {
				out.Also = append(out.Also, e)
			}
			return true
		})
	}
	return limit, open
}
