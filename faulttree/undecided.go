package faulttree

import (
	"cmp"
	"slices"
	"sort"
)

// Undecided is a limit of a tree that a meter cannot decide: what it has to tell there
// lies less than [TimesError] times its error apart, as no verdict may rest on.
type Undecided struct {
	Tree  string
	Of    Quantity // what is read; the zero value of a sum
	Sum   string   // name of the sum of readings that is compared; "" for a reading
	Unit  Unit
	Limit Amount
	Error Amount // what the meter may be off there
	Apart Amount // from the limit to what is to be told from it: nothing, or the other end of a band
	Other Amount // that other end; 0 is nothing
	Above bool   // the limit lies above [Meter.Top]: OL, which counts as over it, tells nothing of it

	// A danger limit, which a reading that may have reached it counts as over.
	Danger bool
	From   Amount // the lowest figure that counts as over it, of [Meter.CountsFrom]
}

// Undecided lists the limits of a forest that a meter cannot decide: danger limits
// first, then by tree. Each limit of a tree stands once, as it is worst.
func (f *Forest) Undecided(m Meter) []Undecided {
	var all []Undecided
	for _, id := range f.IDs() {
		for _, s := range f.Trees[id].Steps {
			for i, spans := range s.compared() {
				all = append(all, m.undecided(s, i, spans)...)
			}
		}
	}
	for _, id := range f.IDs() {
		for _, q := range f.Trees[id].Dangers() {
			limit, _ := f.Trees[id].DangerLimit(q)
			if u, is := m.undecidedDanger(f.Quantities[q], limit); is {
				u.Tree = id
				all = append(all, u)
			}
		}
	}
	return once(all)
}

// once keeps of each limit of a tree the worst: a danger limit, else the one with the
// least room for the error.
func once(all []Undecided) []Undecided {
	danger := func(u Undecided) int {
		if u.Danger {
			return 0
		}
		return 1
	}
	same := func(a, b Undecided) int {
		return cmp.Or(cmp.Compare(a.Tree, b.Tree), cmp.Compare(a.Of.ID, b.Of.ID), cmp.Compare(a.Sum, b.Sum), cmp.Compare(a.Limit, b.Limit))
	}
	slices.SortStableFunc(all, func(a, b Undecided) int {
		return cmp.Or(same(a, b), danger(a)-danger(b), cmp.Compare(a.Apart, b.Apart))
	})
	all = slices.CompactFunc(all, func(a, b Undecided) bool { return same(a, b) == 0 })
	slices.SortStableFunc(all, func(a, b Undecided) int { return danger(a) - danger(b) })
	return all
}

// compared lists the spans with which the branches or the rows of s compare each of
// its readings and sums.
func (s *Step) compared() [][]Span {
	out := make([][]Span, len(s.Measure)+len(s.Derive))
	for _, b := range s.Branches {
		for _, bound := range b.Bounds {
			out[bound.Var] = append(out[bound.Var], bound.Span)
		}
	}
	if s.Chart != nil {
		for _, row := range s.Chart.Rows {
			for c, cell := range row.Cells {
				out[c] = append(out[c], cell.Spans...)
			}
		}
	}
	return out
}

// undecided lists the limits of reading or sum i of s, compared with some spans, that
// m cannot decide.
func (m Meter) undecided(s *Step, i int, spans []Span) []Undecided {
	var out []Undecided
	for _, span := range spans {
		for edge, other := range map[Amount]Amount{span.From: span.Below, span.Below: span.From} {
			if edge == Lowest || edge >= OverTop || edge.Written() == 0 {
				continue
			}
			u := Undecided{Tree: s.Tree, Limit: edge.Written(), Apart: edge.Written().Abs()}
			if other != Lowest && other < OverTop && (other-edge).Abs() < u.Apart {
				u.Apart, u.Other = (other.Written() - u.Limit).Abs(), other.Written()
			}
			if i < len(s.Measure) {
				u.Of, u.Unit = s.Measure[i].Quantity, s.Measure[i].Quantity.Unit
				u.Error = m.errorAt(u.Of, u.Limit)
			} else {
				d := s.Derive[i-len(s.Measure)]
				u.Sum, u.Unit, u.Error = d.Name, d.Unit, m.errorOf(s, d)
			}
			if u.Above = i < len(s.Measure) && u.Limit.Abs() > m.Top(u.Unit); u.Above || u.Apart/TimesError < u.Error {
				out = append(out, u)
			}
		}
	}
	return out
}

// errorAt is what m may be off where a reader takes a value of q.
func (m Meter) errorAt(q Quantity, value Amount) Amount {
	return m.Uncertainty(m.showing(q, value), q)
}

// showing is a reading of a value of q, as finely as a reader takes it.
func (m Meter) showing(q Quantity, value Amount) Reading {
	return Reading{Low: value, High: value, Resolution: m.finest(q, value)}
}

// finest is one count where a reader takes a value of q: as [Meter.Count] says, but in
// ohms on no lower range than the one set first, where none is listed, for most meters
// have none.
func (m Meter) finest(q Quantity, value Amount) Amount {
	if q.Unit == Ohms && len(m.Ranges.of(Ohms)) == 0 {
		value = max(value.Abs(), firstRange(q))
	}
	return m.Count(value, q.Unit)
}

// errorOf is what the counts of m bring into a sum of readings, each on the range set
// first. What m is off by in percent is common to them, and no more than a share of the
// sum itself.
func (m Meter) errorOf(s *Step, d Derived) Amount {
	counts := Amount(0)
	for _, t := range d.Terms {
		q := s.Measure[t.Var].Quantity
		on := m.Range(q.Unit, q.Range)
		counts = addWhole(counts, timesWhole(Amount(on.Counts)*on.Count, max(t.Factor, -t.Factor)))
	}
	return counts
}

// undecidedDanger is a danger limit of q that m cannot decide.
func (m Meter) undecidedDanger(q Quantity, limit Amount) (Undecided, bool) {
	u := Undecided{Of: q, Unit: q.Unit, Limit: limit, Error: m.errorAt(q, limit), Apart: limit.Abs(), Danger: true}
	if u.Above = limit > m.Top(q.Unit); limit <= 0 || !u.Above && u.Apart/TimesError >= u.Error {
		return u, false
	}
	u.From = m.CountsFrom(q, limit)
	return u, true
}

// CountsFrom is the lowest figure of q, from 0, that counts as over a danger limit on
// this meter, as finely as a reader takes it; 0 where any does.
func (m Meter) CountsFrom(q Quantity, limit Amount) Amount {
	danger := func(string) (Amount, bool) { return limit, true }
	over := func(shown Amount) bool { return m.counted(m.showing(q, shown), q, danger).hurts }
	count := m.finest(q, limit)
	below := sort.Search(int(max(limit, 0)/count), func(i int) bool { return over(Amount(i) * count) })
	return min(Amount(below)*count, limit, m.Top(q.Unit))
}
