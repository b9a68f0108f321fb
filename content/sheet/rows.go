package sheet

import (
	"strconv"
	"strings"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
)

var readingsHeader = []string{"No.", "What", "Shown", "Uncertainty", "What it means", "Led to"}

// readingsTable has a row for each reading, choice and act of a walk.
func readingsTable(trail []view.Past) table {
	t := table{class: "readings", header: readingsHeader}
	for _, p := range trail {
		for i, l := range p.Lines {
			r := row{cells: []cell{{}, {text: l.Title}, {text: l.Value}, {text: l.Uncertainty}, {l.Signal, l.Band()}, {}}}
			if i == 0 {
				r.cells[0].text = strconv.Itoa(p.Index + 1)
			}
			if i == len(p.Lines)-1 {
				r.cells[5].text, r.remark = p.Leads, strings.Join(p.Remarks, " ")
				if p.Known != "" { // the word is for what the readings together led to
					r.cells[5].signal = p.Signal
				}
			}
			t.rows = append(t.rows, r)
		}
	}
	return t
}

// unaskedTable has the readings that no step took.
func unaskedTable(lib *content.Library, w faulttree.Walk, all []Measured) table {
	t := table{class: "readings", header: readingsHeader}
	for _, m := range all {
		l := view.Unjudged(w, m.Quantity, m.Reading)
		r := row{cells: plain("", l.Title, l.Value, l.Uncertainty, "not judged", "")}
		if x, hurts := w.Reaches(m.Quantity, m.Reading); hurts {
			r.cells[4] = cell{faulttree.Danger, "not judged; " + x.Says()}
		}
		t.rows = append(t.rows, r)
	}
	return t
}

// retestTable lists each quantity once, with its last reading, for the test
// after repair.
func retestTable(w faulttree.Walk) table {
	t := table{class: "after", header: []string{"What", "Before", "Looked for", "After", "Date", "By"}}
	for _, l := range view.LastReadings(w) {
		t.rows = append(t.rows, row{cells: plain(l.Quantity.Title, l.Reading.Show(l.Quantity.Unit), wanted(l.Step, l.Var), "", "", "")})
	}
	return t
}

// wanted is what the branches without a signal word ask of variable i.
func wanted(s *faulttree.Step, i int) string {
	var spans []string
	for _, b := range s.Branches {
		if b.Signal != faulttree.NoSignal {
			continue
		}
		for _, bound := range b.Bounds {
			if bound.Var != i {
				continue
			}
			words := bound.Span.Format(s.Measure[i].Quantity.Unit)
			if len(spans) == 0 || spans[len(spans)-1] != words {
				spans = append(spans, words)
			}
		}
	}
	return strings.Join(spans, ", or ")
}
