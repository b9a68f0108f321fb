package sheet

import (
	"cmp"
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

// paper is the sheet before it is written in one of its two forms.
type paper struct {
	title string
	facts []view.Fact
	note  string
	parts []part
}

// part is one piece of a page. What of it is set is written in the order of
// its fields, its own parts last.
type part struct {
	class    string // how HTML dresses it; Markdown has no use for it
	signal   faulttree.Signal
	banner   bool // the heading is that of the finding, with its signal word
	heading  string
	lead     string // a sentence in bold before the text
	text     []string
	facts    []view.Fact
	cautions []view.Warned
	prose    []document.Block
	table    table
	after    []string // text below the table
	aside    []Aside
	pictures []figure.Drawing // in HTML only
	blanks   []string         // labels of lines to be filled in by hand
	parts    []part
}

// table is rows under a header; a table without rows is not there.
type table struct {
	class  string
	header []string
	rows   []row
}

// row is one line of a table.
type row struct {
	cells  []cell
	remark string // stands below the row
}

// cell is text behind a signal word.
type cell struct {
	signal faulttree.Signal
	text   string
}

func plain(texts ...string) []cell {
	out := make([]cell, len(texts))
	for i, t := range texts {
		out[i].text = t
	}
	return out
}

// compose gathers the sheet.
func compose(in Input, lib *content.Library) paper {
	w := in.Walk
	p := paper{title: "Sheet of a visit", facts: facts(in), note: strings.TrimSpace(in.Note)}
	if t := tree(w); t != nil {
		p.title = t.Title
	}
	parting := partingOf(lib, in)
	v := findingOf(lib, w).After(parting)
	p.add(findingPart(v, len(in.Aside) > 0))
	if parting.Text != "" {
		p.add(part{class: "parting", heading: "Finding and readings part", text: []string{parting.Text}})
	}
	p.add(part{class: "why", heading: "Why", prose: v.Prose})
	readings := part{heading: "Readings", table: readingsTable(view.Trail(lib, w))}
	if readings.empty() {
		readings.text = []string{"No reading was taken."}
	}
	p.add(readings)
	p.add(part{heading: unaskedHeading, table: unaskedTable(lib, w, in.Unasked)})
	p.add(suspectsPart(in.Fits))
	p.add(part{class: "deciding", heading: "Where the deciding readings were taken", pictures: pictures(lib, w)})
	p.add(electricianPart(v, w, lib))
	p.add(part{heading: "Answers that do not count any more", aside: in.Aside})
	for _, b := range in.Before {
		p.add(beforePart(b, lib))
	}
	repair := part{class: "repair", heading: "Repair", blanks: repairFields}
	if again := retestTable(w); len(again.rows) > 0 {
		repair.add(part{heading: "Test after repair", text: []string{afterLine}, table: again})
	}
	p.add(repair)
	return p
}

func (p *paper) add(one part) {
	if !one.empty() {
		p.parts = append(p.parts, one)
	}
}

func (p *part) add(one part) {
	if !one.empty() {
		p.parts = append(p.parts, one)
	}
}

// empty reports whether there is nothing to write under the heading.
func (p part) empty() bool {
	return len(p.text)+len(p.facts)+len(p.prose)+len(p.table.rows)+len(p.after)+len(p.aside)+len(p.pictures)+len(p.blanks)+len(p.parts) == 0
}

func tree(w faulttree.Walk) *faulttree.Tree {
	if w.Forest() == nil {
		return nil
	}
	return w.Forest().Tree(w.Start().Tree)
}

// findingOf is what a walk ended in, or that it has not ended.
func findingOf(lib *content.Library, w faulttree.Walk) view.Finding {
	if v, ended := view.FindingOf(lib, w); ended {
		return v
	}
	return view.Unfinished(lib, w)
}

// partingOf is where the finding and what fits its readings part.
func partingOf(lib *content.Library, in Input) view.Parting {
	r, ended := in.Walk.Finding()
	if !ended || in.Fits == nil {
		return view.Parting{}
	}
	return view.PartingOf(lib, r, *in.Fits)
}

// suspectsPart lists what fits the readings and the dangers that they leave open.
func suspectsPart(v *view.Suspects) part {
	if v == nil || v.Counted == 0 {
		return part{}
	}
	p := part{class: "suspects", heading: "What fits these readings", after: []string{view.SharesRestOn + " " + view.ClearsNone}}
	p.table.header = []string{"How likely", "Suspect", view.RepairHeading}
	if v.None != nil {
		p.table.rows = append(p.table.rows, row{cells: plain(v.None.Share, v.None.Title+". "+v.None.Text, "")})
	}
	for _, s := range v.Likely {
		p.table.rows = append(p.table.rows, row{cells: []cell{{text: s.Word + ", " + s.Share}, {signal: s.Signal, text: s.Headline()}, {text: s.RepairBy}}, remark: s.Worst})
	}
	open := part{heading: view.OpenHeading}
	open.table.header = []string{"This test", "would show"}
	for _, n := range v.Open {
		open.table.rows = append(open.table.rows, row{cells: plain(n.Test, n.Brief())})
	}
	if v.MoreOpen != "" {
		open.after = []string{v.MoreOpen + ": " + v.RestOpen}
	}
	p.add(open)
	return p
}

func findingPart(v view.Finding, setAside bool) part {
	p := part{class: "finding " + v.Signal.String(), signal: v.Signal, banner: true, heading: v.Title, facts: v.Facts(), cautions: v.Caution.Each}
	if v.Stop != "" {
		p.lead, p.text = "STOP.", []string{v.Stop}
	}
	if setAside {
		p.facts = append(p.facts, view.Fact{Heading: "Answers set aside", Text: "Some answers of this visit do not count in this result. They are listed below; none was thrown away."})
	}
	return p
}

func electricianPart(v view.Finding, w faulttree.Walk, lib *content.Library) part {
	p := part{class: "electrician", heading: "For the electrician", text: []string{measuredLine(w), view.ProofText(w)}}
	open := part{heading: view.NotExcludeHeading, after: []string{loopLine}}
	if len(v.NotExclude) == 0 {
		open.after = []string{nothingListed, loopLine}
	}
	open.table.header = []string{"This test", "would show"}
	first, more, which := v.Foremost()
	for _, n := range first {
		open.table.rows = append(open.table.rows, row{cells: plain(n.Test, n.Titles())})
	}
	if more != "" {
		open.after = append([]string{more + ": " + which}, open.after...)
	}
	p.add(open)
	p.add(part{heading: "Limits used and where they come from", facts: limits(w, lib)})
	return p
}

// beforePart is the short account of a walk before the repair.
func beforePart(b Round, lib *content.Library) part {
	v := findingOf(lib, b.Walk)
	p := part{class: "before", heading: "Before the repair", text: []string{"It ended in: " + v.Headline()}, table: readingsTable(view.Trail(lib, b.Walk)), aside: b.Aside}
	if !b.Began.IsZero() {
		p.heading += ", " + when(b.Began)
	}
	return p
}

func facts(in Input) []view.Fact {
	out := []view.Fact{{Heading: "Site", Text: in.Site}, {Heading: "Vehicle", Text: in.Vehicle}, {Heading: "Date", Text: when(in.Started)}}
	add := func(heading, text string) { out = append(out, view.Fact{Heading: heading, Text: text}) }
	if in.Again {
		add("Test after repair", when(in.Began))
	}
	if !in.Untested.IsZero() {
		add("Test after repair", "begun "+when(in.Untested)+"; nothing has been read again yet")
	}
	if in.Walk.Forest() != nil {
		role := "an owner, without access to enclosures"
		if in.Walk.Role() == faulttree.Qualified {
			role = "a qualified person"
		}
		name := cmp.Or(in.Walk.Meter().Name, "not named")
		add("Read by", role)
		add("Meter", name+"; "+accuracy(in.Walk))
	}
	if in.ID != "" || in.Walk.Forest() == nil {
		add("Visit", in.ID)
	}
	add("Printed", when(in.Printed))
	return out
}

// accuracy words the meter's accuracy for the functions that were used.
func accuracy(w faulttree.Walk) string {
	m := w.Meter()
	var used []faulttree.Unit
	for _, l := range view.LastReadings(w) {
		used = lists.With(used, l.Quantity.Unit)
	}
	if len(used) == 0 {
		used = []faulttree.Unit{faulttree.VoltsAC}
	}
	slices.Sort(used)
	var words []string
	for _, u := range used {
		if text := rangesOf(m, u); text != "" {
			words = append(words, u.Function()+" "+text)
			continue
		}
		a := m.Accuracy(u)
		words = append(words, fmt.Sprintf("%s ±(%s %% + %s)", u.Function(), a.Percent, view.Count(a.Counts, "count")))
	}
	words = append(words, "display of "+view.Count(m.FullScale, "count"))
	if m.LowImpedance {
		words = append(words, "with a low-impedance setting")
	}
	if m.Proved != "" {
		words = append(words, "last proved on "+m.Proved+", as is noted of it")
	}
	return strings.Join(words, ", ")
}

// rangesOf words the accuracy by the ranges that are known of a function; "" where none
// is.
func rangesOf(m faulttree.Meter, u faulttree.Unit) string {
	var out []string
	for _, r := range m.Ranges.List() {
		if r.Unit == u {
			out = append(out, fmt.Sprintf("%s up to %s", r.Accuracy, r.Top.With(u)))
		}
	}
	return strings.Join(out, ", ")
}

const (
	recordsLine = "This sheet records readings. It does not declare anything dead or free of faults."

	codesLine = "Local codes and licensed practice outrank this sheet."

	unaskedHeading = "Readings given that no step asked for"

	loopLine = "Whether the supply's ground can clear a fault is shown by a loop test alone. None of these readings is one, and nobody without the training loads hot to ground to try it."

	nothingListed = "No fault is listed here. That is not a statement that none is left: what was not measured was not examined."

	afterLine = "Read the same points again, with the meter proved before and after. A reading in the range looked for shows no fault at that point, then and there. It proves nothing else."
)

// repairFields are the lines to be filled in by hand.
var repairFields = []string{"Repaired by (name, licence)", "Date", "What was done", "Signature"}

// measuredLine says how much was measured, and how.
func measuredLine(w faulttree.Walk) string {
	if w.Readings() == 0 {
		return "No reading was taken."
	}
	return view.ReadingsTaken(w) + " taken, in the order of the table above, each with the meter's uncertainty."
}
