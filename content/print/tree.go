package print

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// treeSheet is a walk on paper, or a procedure of it.
type treeSheet struct {
	Title, Summary string
	Alone          bool   // a chart by itself
	Elsewhere      string // which of its steps stand on other pages
	Size           int    // of its type, in tenths of a point
	Facts          []view.FactOf
	Danger         danger
	Kit            []string
	Readings       []group
	Proof          proof
	Probes         []figure.Drawing // where the probes go; of a chart alone
	Unread         []target         // where a reading leads that cannot be taken, if its step says nothing else
	Steps          []step
	Findings       []finding
	Walks          []door
	Remain         remain
	Sources        []string
}

// door is another walk that a step leads to, or another step.
type door struct{ Code, What string }

// step is one step of the flow.
type step struct {
	Code, Title string
	Stop        bool
	Qualified   bool // only a qualified person may do it
	Prose       []document.Block
	Reads       []column // what it reads, in this order
	Sums        []string // "lack = across − l1 − l2"
	Columns     []column // of a chart that is drawn as a table
	Rows        []row
	Ways        []way
}

// column is the head of a column of a chart: the code of its reading, "" for a sum,
// and the name that its author gave it.
type column struct{ Code, Name string }

// row is a row of a chart.
type row struct {
	Cells []string
	Rest  bool // it asks nothing
	To    []target
}

// finding is where a walk may end.
type finding struct {
	Code, Title        string
	Signal             faulttree.Signal
	Do, DoNot, By, Not string
}

// treeOf composes the sheets of a walk.
func treeOf(lib *content.Library, t *faulttree.Tree) []treeSheet {
	p := planOf(lib, t)
	var out []treeSheet
	for i, on := range p.sheets {
		v := treeSheet{Title: t.Title, Summary: t.Summary, Danger: p.danger(on), Kit: p.kit(on), Readings: p.readings(on), Remain: p.remain(on)}
		if i == 0 {
			v.Facts, v.Sources = p.facts(), p.sources()
		} else {
			v.Title, v.Summary = on.title, "A procedure of the walk “"+t.Title+"”, which says with which of these steps to begin."
			v.Elsewhere = "All steps and findings that are not here stand on the pages of the walk."
			out[0].Elsewhere += on.spread() + " stand on the pages “" + on.title + "”. "
		}
		v.Proof = p.proof(on)
		p.unread = p.commonUnread(on)
		v.Unread = p.unread
		for _, n := range on.nodes {
			if n.Kind == faulttree.KindFinding {
				v.Findings = append(v.Findings, p.finding(n))
			} else {
				v.Steps = append(v.Steps, p.step(n))
			}
		}
		out = append(out, v)
	}
	out[0].Walks = p.doorways()
	return out
}

// spread says which steps and findings stand on a sheet: "Steps 17 to 24 and findings F14
// to F30".
func (on *sheetPlan) spread() string {
	var text []string
	for _, kind := range []struct {
		word    string
		finding bool
	}{{"Steps ", false}, {"findings ", true}} {
		these := lists.Where(on.nodes, func(n *node) bool { return (n.Kind == faulttree.KindFinding) == kind.finding })
		if len(these) > 0 {
			text = append(text, kind.word+these[0].Code+" to "+these[len(these)-1].Code)
		}
	}
	return strings.Join(text, " and ")
}

// doorways are the other walks that the page points to.
func (p *plan) doorways() []door {
	var out []door
	for i, tree := range p.doors {
		out = append(out, door{fmt.Sprint("W", i+1), "The walk “" + view.TreeTitle(p.lib, tree) + "”."})
	}
	return out
}

func (p *plan) step(n *node) step {
	out := step{Code: n.Code, Title: n.Title, Stop: n.Stop(), Qualified: n.For == faulttree.Qualified, Prose: p.lib.Prose[n.uses[0].Ref()]}
	if n.Chart != nil {
		if out.Columns, out.Rows = p.table(n); len(out.Rows) < fewestRows || len(out.Columns) > mostColumns {
			out.Columns, out.Rows, out.Ways = nil, nil, p.rowsAsWays(n)
		}
	}
	for _, v := range p.inOrder(n) {
		read := column{Code: p.codes[v.Quantity.ID]}
		if len(n.Measure)+len(n.Derive) > 1 && len(out.Rows) == 0 { // else the head of the chart says it
			read.Name = v.Name
		}
		out.Reads = append(out.Reads, read)
	}
	for _, d := range n.Derive {
		out.Sums = append(out.Sums, d.Name+" = "+view.SumText(d, func(i int) string { return n.Measure[i].Name }))
	}
	out.Ways = append(out.Ways, p.ways(n)...)
	return out
}

// A chart of fewer rows, or of more columns than have room on half a page, is written as
// lines.
const fewestRows, mostColumns = 5, 6

// One is the code of the only reading of a step, "" where it has none or several.
func (s step) One() string {
	if len(s.Reads) == 1 && len(s.Sums) == 0 {
		return s.Reads[0].Code
	}
	return ""
}

// table is the rows of a chart under those of its columns that a row asks for.
func (p *plan) table(n *node) (columns []column, rows []row) {
	var asked []int
	for i := range len(n.Measure) + len(n.Derive) {
		if !slices.ContainsFunc(n.Chart.Rows, func(r faulttree.Row) bool { return !r.Cells[i].Any() }) {
			continue
		}
		c := column{}
		c.Name, _ = columnOf(n.Step, i)
		if i < len(n.Measure) {
			c.Code = p.codes[n.Measure[i].Quantity.ID]
		}
		asked, columns = append(asked, i), append(columns, c)
	}
	for i, r := range n.Chart.Rows {
		line := row{To: p.targets(n, func(s *faulttree.Step) faulttree.Exit { return s.Under(p.known).Chart.Rows[i].Exit })}
		for _, c := range asked {
			_, u := columnOf(n.Step, c)
			line.Cells = append(line.Cells, cell(r.Cells[c], u))
		}
		line.Rest = !slices.ContainsFunc(line.Cells, func(text string) bool { return text != "" })
		rows = append(rows, line)
	}
	return columns, rows
}

// rowsAsWays is the rows of a short chart as sentences.
func (p *plan) rowsAsWays(n *node) []way {
	var out []way
	for i, r := range n.Chart.Rows {
		var asks []string
		for c, asked := range r.Cells {
			name, u := columnOf(n.Step, c)
			if len(r.Cells) == 1 {
				name = ""
			}
			if text := cell(asked, u); text != "" {
				asks = append(asks, strings.TrimSpace(name+" "+text))
			}
		}
		when := strings.Join(asks, and)
		if when == "" {
			when = otherwise
		}
		out = append(out, way{When: when, To: p.targets(n, func(s *faulttree.Step) faulttree.Exit { return s.Under(p.known).Chart.Rows[i].Exit })})
	}
	return runs(out, len(out) < fewestRows)
}

// inOrder is what a node reads, that of a chart in the order in which a walk asks for
// it while nothing is known.
func (p *plan) inOrder(n *node) []faulttree.Variable {
	if n.Chart == nil {
		return n.Measure
	}
	way, _ := n.Order(p.tree.DangerLimit, faulttree.DefaultMeter())
	var out []faulttree.Variable
	for _, r := range way {
		for _, v := range n.Measure {
			if v.Quantity.ID == r.Quantity.ID {
				out = append(out, v)
			}
		}
	}
	for _, v := range n.Measure {
		if !slices.ContainsFunc(out, func(o faulttree.Variable) bool { return o.Name == v.Name }) {
			out = append(out, v)
		}
	}
	return out
}

func (p *plan) finding(n *node) finding {
	v := view.ResultOf(p.lib, faulttree.Result{Ref: n.uses[0].Ref(), Title: n.Title, For: n.For, Finding: n.Finding})
	return finding{
		Code: n.Code, Title: view.Sentence(v.Title), Signal: v.Signal, By: v.RepairBy, Not: v.Clears,
		Do: strings.Join(v.Do, " "), DoNot: strings.Join(v.DoNot, " "),
	}
}
