package faulttree

import (
	"slices"
	"sync"
)

// notTaken is the bit of a mask that stands for a reading that was not taken.
const notTaken = MostSegments

// table is a chart with the values of each column cut into segments, between
// which no row tells a difference. A mask is a set of segments, by their bits.
type table struct {
	step    *Step
	measure int
	domain  []Span       // by column
	cuts    [][]Amount   // by column, where its segments begin
	full    []uint64     // by column, every segment, and not taken where some row asks for it
	fits    [][]uint64   // by row and column
	leads   []int        // by row, the first row that leads to the same
	plan    func() *plan // made once somebody asks; of a chart that is not cramped
	cramped string       // a column with too many segments, "" if none
}

// mask is the set of segments that lie in spans of column c.
func (t *table) mask(c int, spans []Span) uint64 {
	out := uint64(0)
	for k := range t.cuts[c] {
		if slices.ContainsFunc(spans, t.segment(c, k).Overlaps) {
			out |= 1 << k
		}
	}
	return out
}

// segment is stretch k of column c.
func (t *table) segment(c, k int) Span {
	s := Span{t.cuts[c][k], t.domain[c].Below}
	if k+1 < len(t.cuts[c]) {
		s.Below = t.cuts[c][k+1]
	}
	return s
}

// at is the segment of column c in which a value lies.
func (t *table) at(c int, a Amount) int {
	k, found := slices.BinarySearch(t.cuts[c], a)
	if !found {
		k--
	}
	return max(0, k)
}

// hull is the span from the lowest to the highest segment of a mask; false if it
// holds none.
func (t *table) hull(c int, mask uint64) (Span, bool) {
	out, ok := Span{}, false
	for k := range t.cuts[c] {
		if mask>>k&1 == 0 {
			continue
		}
		s := t.segment(c, k)
		if !ok {
			out = s
		}
		out.Below, ok = s.Below, true
	}
	return out, ok
}

// Cramped names a column of the chart s whose cells have more limits than can be
// told apart.
func (s *Step) Cramped() (column string, cramped bool) {
	t := newTable(s)
	return t.cramped, t.cramped != ""
}

// compiled is the chart of s, cut into segments; made once.
func (s *Step) compiled() *table {
	c := s.Chart
	c.once.Do(func() {
		c.table = newTable(s)
		c.table.plan = sync.OnceValue(func() *plan { return newPlan(c.table) })
	})
	return c.table
}

func newTable(s *Step) *table {
	n := len(s.Measure) + len(s.Derive)
	t := &table{step: s, measure: len(s.Measure), domain: make([]Span, n), cuts: make([][]Amount, n), full: make([]uint64, n)}
	for c := range n {
		t.domain[c] = Everything()
		if c < t.measure {
			t.domain[c] = s.Measure[c].Quantity.Domain()
		}
		t.cuts[c] = []Amount{t.domain[c].From}
		for _, row := range s.Chart.Rows {
			for _, span := range row.Cells[c].Spans {
				for _, edge := range []Amount{span.From, span.Below} {
					if edge > t.domain[c].From && edge < t.domain[c].Below {
						t.cuts[c] = append(t.cuts[c], edge)
					}
				}
			}
			if row.Cells[c].NotTaken {
				t.full[c] |= 1 << notTaken
			}
		}
		slices.Sort(t.cuts[c])
		t.cuts[c] = slices.Compact(t.cuts[c])
		if len(t.cuts[c]) > MostSegments {
			t.cramped = t.name(c)
			return t
		}
		t.full[c] |= 1<<len(t.cuts[c]) - 1
	}
	for i, d := range s.Derive {
		for _, term := range d.Terms {
			t.full[t.measure+i] |= t.full[term.Var] & (1 << notTaken)
		}
	}
	for i, row := range s.Chart.Rows {
		fits := make([]uint64, n)
		for c, cell := range row.Cells {
			switch {
			case cell.Any():
				fits[c] = t.full[c]
			default:
				fits[c] = t.mask(c, cell.Spans)
				if cell.NotTaken {
					fits[c] |= 1 << notTaken
				}
			}
		}
		t.fits = append(t.fits, fits)
		t.leads = append(t.leads, slices.IndexFunc(s.Chart.Rows[:i+1], func(r Row) bool { return r.To == row.To && r.Signal == row.Signal && r.Label == row.Label }))
	}
	return t
}

// name is the short name of column c.
func (t *table) name(c int) string {
	if c < t.measure {
		return t.step.Measure[c].Name
	}
	return t.step.Derive[c-t.measure].Name
}

// box is a set of readings: by column a mask, and for the quantities the span in
// which the value lies where more is known than its segment.
type box struct {
	masks  []uint64
	values []Span
}

// all is every reading.
func (t *table) all() box {
	return box{slices.Clone(t.full), slices.Clone(t.domain[:t.measure])}
}

// with is b with another mask for column c.
func (b box) with(c int, mask uint64) box {
	b.masks = slices.Clone(b.masks)
	b.masks[c] = mask
	return b
}

// feasible reports whether some reading lies in b, as far as each sum by itself
// tells.
func (t *table) feasible(b box) bool {
	if slices.Contains(b.masks, 0) {
		return false
	}
	parts := make([]Span, t.measure)
	for c := range parts {
		hull, ok := t.hull(c, b.masks[c])
		if parts[c] = hull.Meet(b.values[c]); ok && parts[c].Empty() {
			return false
		}
	}
	for i, d := range t.step.Derive {
		mask, sure, maybe := b.masks[t.measure+i], false, false
		for _, term := range d.Terms {
			m := b.masks[term.Var]
			maybe = maybe || m>>notTaken&1 == 1
			sure = sure || m == 1<<notTaken
		}
		if mask>>notTaken&1 == 1 && maybe {
			continue
		}
		if sure || !slices.ContainsFunc(t.spans(t.measure+i, mask), d.Span(parts).Overlaps) {
			return false
		}
	}
	return true
}

// spans lists the segments of a mask.
func (t *table) spans(c int, mask uint64) []Span {
	var out []Span
	for k := range t.cuts[c] {
		if mask>>k&1 == 1 {
			out = append(out, t.segment(c, k))
		}
	}
	return out
}

// searchWork bounds how many parts one search looks at. A chart of ordinary size
// takes a few hundred.
const searchWork = 20_000

// visit goes through the parts of b that the rows from row on take, each with
// its row, -1 where none does, until found says to stop. It reports false where
// it was stopped, or where it would take too long.
func (t *table) visit(b box, row int, work *int, found func(row int, part box) bool) bool {
	if *work--; *work < 0 {
		return false
	}
	if !t.feasible(b) {
		return true
	}
	for ; row < len(t.fits); row++ {
		fits := t.fits[row]
		part := box{make([]uint64, len(fits)), b.values}
		for c := range fits {
			part.masks[c] = b.masks[c] & fits[c]
		}
		if slices.Contains(part.masks, 0) {
			continue
		}
		if t.feasible(part) && !found(row, part) {
			return false
		}
		for c := range fits {
			if outside := b.masks[c] &^ fits[c]; outside != 0 {
				if !t.visit(b.with(c, outside), row+1, work, found) {
					return false
				}
				b = b.with(c, part.masks[c])
			}
		}
		return true
	}
	return found(-1, b)
}

// row is the row that takes all of b, counted by where it leads; false where
// several can, or that is not shown.
func (t *table) row(b box) (row int, known bool) {
	row, first := -1, true
	work := searchWork
	known = t.visit(b, 0, &work, func(r int, _ box) bool {
		if first {
			row, first = r, false
			return true
		}
		return r >= 0 && row >= 0 && t.leads[r] == t.leads[row]
	})
	return row, known && row >= 0
}
