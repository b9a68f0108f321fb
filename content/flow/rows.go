package flow

import (
	"fmt"
	"strconv"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
)

// The words of exits that no reading within range takes.
const (
	rest          = "anything else"
	overRange     = "OL, over the range"
	notPossible   = "cannot be measured"
	notApplicable = "the vehicle has nothing to measure here"
	done          = "done"

	qualifiedOnly  = "a qualified person only"
	qualifiedReach = "only a qualified person comes here"
)

func number(n int) string { return strconv.Itoa(n) }

// rows fills in what node i asks, and a row for each exit.
func (b *builder) rows(i int) {
	if !b.Nodes[i].Step() {
		return
	}
	s := b.tree.Step(b.Nodes[i].Ref.Step).Under(b.known)
	n := b.Nodes[i]
	add := func(e faulttree.Exit, r Row) {
		if e.Set() {
			r.To, r.Label, r.Signal, r.exit = b.node(e.To), e.Label, e.Signal, e
			n.Rows = append(n.Rows, r)
		}
	}
	if s.Reads() && len(s.Measure) == 0 {
		add(s.NotApplicable, Row{Words: notApplicable})
		b.Nodes[i].Rows = n.Rows
		return
	}
	if tabled(s) {
		n.Columns = columns(s)
		for _, v := range s.Measure {
			n.Asks = append(n.Asks, plain(v.Name)+": "+v.Quantity.Title)
		}
		for _, d := range s.Derive {
			n.Asks = append(n.Asks, plain(d.Name)+": "+sum(s, d))
		}
	} else {
		for _, v := range s.Measure {
			n.Asks = append(n.Asks, v.Quantity.Title)
		}
	}
	for _, branch := range s.Branches {
		add(branch.Exit, branchRow(s, branch))
	}
	if s.Chart != nil {
		for _, row := range s.Chart.Rows {
			add(row.Exit, chartRow(s, row))
		}
	}
	for _, c := range s.Choices {
		add(c.Exit, Row{Words: c.Text})
	}
	add(s.Act.Exit, Row{Words: done})
	add(s.OverRange, Row{Words: overRange})
	add(s.NotPossible, Row{Words: notPossible})
	add(s.NotApplicable, Row{Words: notApplicable})
	add(s.Then, Row{Words: fmt.Sprintf("after %s here", view.Count(max(s.Recheck, 1), "time"))})
	b.Nodes[i].Asks, b.Nodes[i].Columns, b.Nodes[i].Rows = n.Asks, n.Columns, n.Rows
}

// tabled reports whether the exits of s are told by several values.
func tabled(s *faulttree.Step) bool { return s.Reads() && len(s.Measure)+len(s.Derive) > 1 }

func columns(s *faulttree.Step) []string {
	var out []string
	for _, v := range s.Measure {
		out = append(out, plain(v.Name))
	}
	for _, d := range s.Derive {
		out = append(out, plain(d.Name))
	}
	return out
}

// plain is a name of a document as words.
func plain(name string) string { return strings.ReplaceAll(name, "-", " ") }

// sum words a derived value by the names of its columns: "across − leg 1".
func sum(s *faulttree.Step, d faulttree.Derived) string {
	return view.SumText(d, func(i int) string { return plain(s.Measure[i].Name) })
}

// unitOf is the unit of column c.
func unitOf(s *faulttree.Step, c int) faulttree.Unit {
	if c < len(s.Measure) {
		return s.Measure[c].Quantity.Unit
	}
	return s.Derive[c-len(s.Measure)].Unit
}

func branchRow(s *faulttree.Step, branch faulttree.Branch) Row {
	if !tabled(s) {
		words := rest
		for _, bound := range branch.Bounds {
			words = bound.Span.Format(unitOf(s, bound.Var))
		}
		return Row{Words: words}
	}
	cells := make([]string, len(s.Measure)+len(s.Derive))
	for _, bound := range branch.Bounds {
		cells[bound.Var] = bound.Span.Format(unitOf(s, bound.Var))
	}
	return filled(cells)
}

func chartRow(s *faulttree.Step, row faulttree.Row) Row {
	cells := make([]string, len(row.Cells))
	for c, cell := range row.Cells {
		cells[c] = view.CellText(cell, unitOf(s, c))
	}
	if !tabled(s) {
		if cells[0] == "" {
			cells[0] = rest
		}
		return Row{Words: cells[0]}
	}
	return filled(cells)
}

// filled is a row of cells; one that asks nothing says so.
func filled(cells []string) Row {
	if strings.Join(cells, "") == "" {
		return Row{Words: rest}
	}
	return Row{Cells: cells}
}
