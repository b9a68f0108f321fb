package faulttree

import (
	"cmp"
	"fmt"
	"slices"
	"strings"
	"sync"

	"faultwright/faulttree/source"
)

// Chart is the table of a chart step: what several readings, and sums of them,
// mean together. Its columns are the step's Measure and then its Derive. Of all
// rows that fit the first counts.
type Chart struct {
	Rows   []Row
	Pins   []int   // columns asked first, in this order
	Before []Gate  // what is read before what
	Cost   Weights // of a reading by its exposure, its effort beyond 1 added; zero for [DefaultWeights]

	once  sync.Once // guards table
	table *table
	mutex sync.Mutex // guards under
	under map[string]*Step
}

// Row is one line of a chart and where it leads.
type Row struct {
	Cells []Cell // one for each column
	Exit
}

// Cell is what a row asks of one column: a value in one of the spans, or, with
// NotTaken, that it was not taken. The zero Cell asks nothing.
type Cell struct {
	Spans    []Span
	NotTaken bool
	Pos      source.Pos
}

// Any reports whether c asks nothing.
func (c Cell) Any() bool { return len(c.Spans) == 0 && !c.NotTaken }

// Gate says that of two columns one is read before the other.
type Gate struct{ First, Then int }

// OverTop is what OL counts as in a chart: more than anything the meter shows.
const OverTop = Highest - 1

// MostSegments is into how many stretches the cells of one column may divide
// its values.
const MostSegments = 62

// between stands between the columns in the name of a step that takes several.
const between = "+"

// Chart is the chart a reading of which r asks, if it does: of one column, or of
// several that were given at once.
func (r Ref) Chart() (chart Ref, column string, ok bool) {
	id, column, ok := strings.Cut(r.Step, "/")
	return Ref{r.Tree, id}, column, ok
}

// column is the step that asks column c of the chart s, and judges it beside what
// is known of the others.
func (s *Step) column(c int, known []*Reading) *Step { return s.columns([]int{c}, known) }

// Columns are the steps that ask the columns of a chart, each by itself; none for
// any other step.
func (s *Step) Columns() []*Step {
	var out []*Step
	for c := range s.Measure {
		if s.Kind == KindChart {
			out = append(out, s.column(c, nil))
		}
	}
	return out
}

// columns is the step that takes some columns of the chart s at once. Nobody is
// asked so; figures are given so.
func (s *Step) columns(cs []int, known []*Reading) *Step {
	out := &Step{
		Tree: s.Tree, Title: s.Title, Kind: KindMeasure, For: s.For,
		Cautions: s.Cautions, Cards: s.Cards, Sources: s.Sources, Pos: firstPos(s.Measure[cs[0]].Pos, s.Pos),
		judge: func(rs []Reading, m Meter, danger DangerLimit) (Outcome, error) {
			all := make([]*Reading, len(s.Measure))
			copy(all, known)
			for i, c := range cs {
				all[c] = &rs[i]
			}
			out, _, err := s.evaluate(all, m, danger)
			return out, err
		},
	}
	var names []string
	for _, c := range cs {
		out.Measure = append(out.Measure, s.Measure[c])
		names = append(names, s.Measure[c].Name)
	}
	if out.ID = s.ID + "/" + strings.Join(names, between); len(cs) == 1 {
		out.Title = out.Measure[0].Quantity.Title
	}
	return out
}

func firstPos(a, b source.Pos) source.Pos {
	if a.IsValid() {
		return a
	}
	return b
}

// columnNamed is the step that asks one column of the chart s, or takes several,
// by their names; nil if it has none of such a name.
func (s *Step) columnNamed(name string, known []*Reading) *Step {
	if s == nil || s.Kind != KindChart {
		return nil
	}
	var cs []int
	for one := range strings.SplitSeq(name, between) {
		c := slices.IndexFunc(s.Measure, func(v Variable) bool { return v.Name == one })
		if c < 0 || slices.Contains(cs, c) {
			return nil
		}
		cs = append(cs, c)
	}
	return s.columns(cs, known)
}

// underChart is [Step.Under] for a chart, made once for each set of columns that
// is left. A row that asks something of what the facts rule out is left out.
func (s *Step) underChart(at []int, measure []Variable) *Step {
	c := s.Chart
	key := fmt.Sprint(at)
	c.mutex.Lock()
	defer c.mutex.Unlock()
	if u := c.under[key]; u != nil {
		return u
	}
	out := *s
	out.Measure, out.Derive = measure, nil
	out.Chart = &Chart{Cost: c.Cost}
	var left []int
	for i := range s.Measure {
		if at[i] >= 0 {
			left = append(left, i)
		}
	}
	for i, d := range s.Derive {
		terms := slices.Clone(d.Terms)
		for k := range terms {
			terms[k].Var = at[terms[k].Var]
		}
		if !slices.ContainsFunc(terms, func(t Term) bool { return t.Var < 0 }) {
			d.Terms = terms
			out.Derive = append(out.Derive, d)
			left = append(left, len(s.Measure)+i)
		}
	}
	for _, row := range s.Chart.Rows {
		cells := make([]Cell, 0, len(left))
		asks := 0
		for i, cell := range row.Cells {
			if slices.Contains(left, i) {
				cells = append(cells, cell)
			} else if !cell.Any() {
				asks++
			}
		}
		if asks == 0 {
			row.Cells = cells
			out.Chart.Rows = append(out.Chart.Rows, row)
		}
	}
	for _, p := range c.Pins {
		if at[p] >= 0 {
			out.Chart.Pins = append(out.Chart.Pins, at[p])
		}
	}
	for _, g := range c.Before {
		if at[g.First] >= 0 && at[g.Then] >= 0 {
			out.Chart.Before = append(out.Chart.Before, Gate{at[g.First], at[g.Then]})
		}
	}
	if c.under == nil {
		c.under = map[string]*Step{}
	}
	c.under[key] = &out
	return &out
}

// Circle reports whether a column would have to be read before itself.
func (c *Chart) Circle(columns int) bool {
	read := map[int]bool{}
	for range columns {
		for column := range columns {
			if !slices.ContainsFunc(c.gated(column), func(g int) bool { return !read[g] }) {
				read[column] = true
			}
		}
	}
	return len(read) < columns
}

// gated lists what must be read before column c: what a gate says, and what is
// pinned before it.
func (c *Chart) gated(column int) []int {
	var out []int
	pinned := slices.Index(c.Pins, column)
	for i, p := range c.Pins {
		if p != column && (pinned < 0 || i < pinned) {
			out = append(out, p)
		}
	}
	for _, g := range c.Before {
		if g.Then == column {
			out = append(out, g.First)
		}
	}
	slices.SortFunc(out, cmp.Compare[int])
	return slices.Compact(out)
}
