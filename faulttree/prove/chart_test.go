package prove

import (
	"context"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

func cells(of ...any) []faulttree.Cell {
	var out []faulttree.Cell
	for _, c := range of {
		cell := faulttree.Cell{}
		switch c := c.(type) {
		case faulttree.Span:
			cell.Spans = []faulttree.Span{c}
		case []faulttree.Span:
			cell.Spans = c
		case string:
			cell.NotTaken = c == "?"
		}
		out = append(out, cell)
	}
	return out
}

// chartStep puts a chart of body to earth, the two legs and their sum into a
// tree, in place of the step "body".
func chartStep(t *faulttree.Tree, rows ...faulttree.Row) *faulttree.Step {
	s := at(t, "body")
	s.Kind, s.Branches, s.OverRange = faulttree.KindChart, nil, faulttree.Exit{}
	s.Measure = []faulttree.Variable{{Name: "v", Quantity: bodyEarth}, {Name: "a", Quantity: pedestalL1N}, {Name: "b", Quantity: pedestalL2N}}
	s.Derive = []faulttree.Derived{{Name: "apart", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: 1, Var: 1}, {Factor: -1, Var: 2}}}}
	s.Sources = []string{"common-practice"}
	s.Chart = &faulttree.Chart{Rows: rows}
	for i := range rows {
		rows[i].Pos = source.Pos{File: "trees/body.md", Line: i + 1, Column: 1}
	}
	return s
}

func chartRow(e faulttree.Exit, of ...any) faulttree.Row {
	return faulttree.Row{Cells: cells(of...), Exit: e}
}

// soundChart breaks no rule.
func soundChart() []faulttree.Row {
	return []faulttree.Row{
		chartRow(to("stop", danger), span(30*volt, 0), 0, 0, 0),
		chartRow(to("shift", warning), 0, span(0, 104*volt), span(104*volt, 0), 0),
		chartRow(to("shift", warning), 0, 0, 0, span(8*volt, 0)),
		chartRow(to("shift", warning), span(5*volt, 0), 0, 0, 0),
		chartRow(to("meter", none), 0, 0, 0, 0),
	}
}

func chartFixture(change func(rows []faulttree.Row) []faulttree.Row) func(*faulttree.Tree) {
	return func(t *faulttree.Tree) { chartStep(t, change(soundChart())...) }
}

var chartFixtures = []fixture{
	{ruleGap, "a chart with a row for the rest", chartFixture(func(r []faulttree.Row) []faulttree.Row { return r }), ""},
	{ruleGap, "a chart without one", chartFixture(func(r []faulttree.Row) []faulttree.Row { return r[:4] }), "no row takes v = 0 V"},
	{ruleEmptyBranch, "a row that those above it leave nothing", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		return slices.Insert(r, 4, chartRow(to("shift", warning), 0, span(0, 90*volt), span(110*volt, 0), 0))
	}), "row 5 (to shift) takes no reading"},
	{ruleEmptyBranch, "a sum that its parts cannot make", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		return slices.Insert(r, 1, chartRow(to("shift", warning), 0, span(0, 90*volt), 0, span(91*volt, 0)))
	}), "row 2 (to shift) takes no reading"},
	{ruleEmptyBranch, "a reading not taken below one that is over every limit", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		return slices.Insert(r, 3, chartRow(to("shift", warning), 0, 0, span(140*volt, 0), 0), chartRow(to("shift", warning), 0, 0, "?", 0))
	}), ""},
	{ruleEmptyBranch, "every row is reached", chartFixture(func(r []faulttree.Row) []faulttree.Row { return r }), ""},
	{ruleSofterRow, "a milder row first", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		r[3], r[0] = r[0], r[3]
		return r
	}), "row 1 (to shift) has the signal warning and takes v = 30 V, a = 0 V, b = 0 V, which row 4 (to stop) below it, of signal danger, would take"},
	{ruleSofterRow, "a milder row first that shares no reading", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		r[3].Cells[0].Spans[0].Below = 30 * volt
		return []faulttree.Row{r[3], r[0], r[1], r[2], r[4]}
	}), ""},
	{ruleDangerExit, "a row that takes what hurts", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		r[0].Cells[0].Spans[0].From = 31 * volt
		return r
	}), "which takes v = 30 V"},
	{ruleDangerExit, "a chart that stops at the limit", chartFixture(func(r []faulttree.Row) []faulttree.Row { return r }), ""},
	{ruleSmallLimit, "a sum below four times the counts", chartFixture(func(r []faulttree.Row) []faulttree.Row {
		r[2].Cells[3].Spans[0].From = 3 * volt
		return r
	}), "compares apart with 3 V, where the counts of the meter alone may make 1 V"},
	{ruleExitMissing, "a chart without not-possible", func(t *faulttree.Tree) {
		chartStep(t, soundChart()...).NotPossible = faulttree.Exit{}
	}, "a reading that is not possible"},
	{ruleBodyEarth, "a chart that reads the body before the spike was proved", func(t *faulttree.Tree) {
		chartStep(t, soundChart()...)
		ask(t, to("body", none))
	}, "step body reads body-earth"},
	{ruleDangerMet, "a chart asks one reading at a time", chartFixture(func(r []faulttree.Row) []faulttree.Row { return r }), ""},
}

// problems lists what the proof says of a chart, without places.
func problems(rows []faulttree.Row) (out []string) {
	tree := sound()
	chartStep(tree, rows...).Sources = nil // every limit is one of the tree's
	for name, v := range map[string]faulttree.Amount{"leg": 104 * volt, "apart": 8 * volt} {
		tree.Limits[name] = faulttree.Limit{Value: v, Unit: faulttree.VoltsAC, Source: "iec-60479-1"}
	}
	for _, d := range Forest(context.Background(), forest(tree), known()) {
		out = append(out, d.Rule)
	}
	return out
}

// cellValues are a value of every stretch that the charts under test tell apart,
// and of the limits of their mutations.
var cellValues = []faulttree.Amount{0, 4, 5, 6, 7, 12, 29, 30, 31, 40, 103, 104, 105, 120, 140}

// behaviour is where a chart leads, and how grave that is, for every combination
// of values; the table is read plainly.
func behaviour(rows []faulttree.Row) (signals []faulttree.Signal, leads []string) {
	for _, v := range cellValues {
		for _, a := range cellValues {
			for _, b := range cellValues {
				all := []faulttree.Amount{v * volt, a * volt, b * volt, (a - b) * volt}
				i := slices.IndexFunc(rows, func(r faulttree.Row) bool {
					for c, cell := range r.Cells {
						if !cell.Any() && !slices.ContainsFunc(cell.Spans, func(s faulttree.Span) bool { return s.Contains(all[c]) }) {
							return false
						}
					}
					return true
				})
				if i < 0 {
					signals, leads = append(signals, 0), append(leads, "nowhere")
					continue
				}
				signals, leads = append(signals, rows[i].Signal), append(leads, rows[i].Text)
			}
		}
	}
	return signals, leads
}

// Of a thousand seeded changes of a chart each is found by the proof, or leads no
// combination of readings to anything milder than it led before.
func TestChangesOfAChartAreFound(t *testing.T) {
	before, leads := behaviour(soundChart())
	if got := problems(soundChart()); len(got) > 0 {
		t.Fatalf("the chart itself has %v", got)
	}
	random := rand.New(rand.NewPCG(7, 10))
	found, same, graver := 0, 0, 0
	for n := range 1000 {
		rows := soundChart()
		i := random.IntN(len(rows) - 1)
		what := ""
		switch random.IntN(3) {
		case 0:
			what = "a limit moved"
			c := slices.IndexFunc(rows[i].Cells, func(c faulttree.Cell) bool { return !c.Any() })
			move := faulttree.Amount(random.IntN(9)-4) * 7 * volt / 10 // never onto another limit of the tree
			if s := &rows[i].Cells[c].Spans[0]; s.From > 0 {
				s.From += move
			} else {
				s.Below += move
			}
		case 1:
			what = "two rows exchanged"
			k := random.IntN(len(rows))
			rows[i], rows[k] = rows[k], rows[i]
		case 2:
			what = "a cell emptied"
			rows[i].Cells[random.IntN(4)] = faulttree.Cell{}
		}
		said := problems(rows)
		after, now := behaviour(rows)
		for k := range after {
			if len(said) == 0 && (after[k] < before[k] || now[k] == "nowhere") {
				t.Fatalf("change %d, %s: some readings lead to %s (%s) instead of %s, and nothing is said:\n%+v", n, what, now[k], after[k], leads[k], rows)
			}
		}
		switch {
		case len(said) > 0:
			found++
		case slices.Equal(leads, now):
			same++
		default:
			graver++
		}
	}
	if found < 500 || same < 100 {
		t.Errorf("of 1000 changes %d are found, %d change nothing, %d only lead to something graver", found, same, graver)
	}
	t.Logf("of 1000 changes %d are found, %d change nothing, %d only lead to something graver", found, same, graver)
}

// large is a chart of 12 columns and 60 rows, two of the columns sums.
func large() *faulttree.Step {
	random := rand.New(rand.NewPCG(7, 12))
	s := &faulttree.Step{Tree: "body", ID: "body", Kind: faulttree.KindChart, Chart: &faulttree.Chart{}, NotPossible: to("unproved", warning), Sources: []string{"x"}}
	for i := range 10 {
		q := pedestalL1N
		q.ID = fmt.Sprint("q", i)
		s.Measure = append(s.Measure, faulttree.Variable{Name: fmt.Sprint("v", i), Quantity: q})
	}
	s.Derive = []faulttree.Derived{
		{Name: "s", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: 1, Var: 0}, {Factor: -1, Var: 1}}},
		{Name: "u", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: 1, Var: 2}, {Factor: -1, Var: 3}, {Factor: -1, Var: 4}}},
	}
	for k := range 59 {
		of := make([]any, 12)
		for range 1 + random.IntN(3) {
			low := faulttree.Amount(20*random.IntN(6)) * volt
			of[random.IntN(12)] = span(low, low+faulttree.Amount(20+20*random.IntN(3))*volt)
		}
		signal := danger
		if k > 20 {
			signal = warning
		}
		s.Chart.Rows = append(s.Chart.Rows, chartRow(to("shift", signal), of...))
	}
	s.Chart.Rows = append(s.Chart.Rows, chartRow(to("unproved", warning), make([]any, 12)...))
	return s
}

func largeChartTree() *faulttree.Tree {
	t := sound()
	chart := large()
	t.Danger = map[string]string{"q3": "touch"}
	for i := range chart.Chart.Rows {
		chart.Chart.Rows[i].Pos = source.Pos{File: "trees/body.md", Line: i + 1, Column: 1}
	}
	*at(t, "body") = *chart
	return t
}

func BenchmarkLargeChart(b *testing.B) {
	f := forest(largeChartTree())
	for b.Loop() {
		Forest(context.Background(), f, known())
	}
}

func TestALargeChartIsProved(t *testing.T) {
	for _, d := range Forest(context.Background(), forest(largeChartTree()), known()) {
		if d.Rule == ruleTooComplex {
			t.Error(d)
		}
	}
}
