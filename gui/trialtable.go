package gui

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/content/matrix"
	"faultwright/faulttree/trial"
)

// gradeWords says what a grade means, for one cell.
func gradeWords(g matrix.Grade) string {
	switch g {
	case matrix.Named:
		return "named by the finding"
	case matrix.Declared:
		return "declared as not excluded"
	case matrix.Silent:
		return "dangerous, neither named nor declared"
	case matrix.False:
		return "false all-clear"
	}
	return "neither named nor declared"
}

// trialRow is a fault, or sound rigs, and all walks it was in.
type trialRow struct {
	fault   string
	outside bool
	walks   int
}

// name is the fault as the matrix writes it.
func (r trialRow) name() string {
	if r.outside {
		return r.fault + " *"
	}
	return r.fault
}

// trialColumn is a finding that some walk reached.
type trialColumn struct {
	number int // as the matrix heads it
	id     string
	title  string
	signal string
	walks  int
}

// trialCell is the walks of one fault that ended at one finding.
type trialCell struct {
	row, column int
	walks       int
	share       float64 // of the fault's walks
	wrong       int     // false all-clears among them
	draw        int     // an example, for [trial.See]
	grade       matrix.Grade
}

// label is the share in whole percent as it stands in the cell. Signs and
// brackets say what colour and outline say.
func (c trialCell) label() string {
	s := "<1"
	if percent := int(100*c.share + 0.5); percent > 0 {
		s = itoa(percent)
	}
	switch c.grade {
	case matrix.Declared:
		return "(" + s + ")"
	case matrix.Silent:
		return "?" + s
	case matrix.False:
		return "!" + s
	}
	return s
}

// trialTable is the confusion matrix of a report: faults down, findings across.
type trialTable struct {
	rows    []trialRow
	columns []trialColumn
	cells   []trialCell // by row, then column
}

// tabulate makes the table of a report for one role, or for both together if
// the role is "". Rows stand in the order of the findings that most of their
// walks reach, so that what is told apart lies along the diagonal.
func tabulate(r *trial.Report, role string) trialTable {
	type key struct {
		fault   string
		outside bool
		finding string
	}
	sums := map[key]trialCell{}
	rows := map[trialRow]int{} // walks
	reached := map[string]int{}
	for _, c := range r.Cells {
		if role != "" && c.Role != role {
			continue
		}
		k := key{c.Fault, c.Outside, c.Finding}
		sum, known := sums[k]
		if !known || c.Draw < sum.draw {
			sum.draw = c.Draw
		}
		sum.walks += c.Walks
		sum.wrong += c.False
		sums[k] = sum
		rows[trialRow{fault: c.Fault, outside: c.Outside}] += c.Walks
		reached[c.Finding] += c.Walks
	}
	var t trialTable
	for _, f := range r.Findings {
		if reached[f.ID] > 0 {
			t.columns = append(t.columns, trialColumn{len(t.columns) + 1, f.ID, f.Title, f.Signal, reached[f.ID]})
		}
	}
	main := map[trialRow]int{} // the column most walks reach
	for row := range rows {
		most := 0
		for i, c := range t.columns {
			if n := sums[key{row.fault, row.outside, c.id}].walks; n > most {
				most, main[row] = n, i
			}
		}
	}
	for row := range rows {
		t.rows = append(t.rows, row)
	}
	slices.SortFunc(t.rows, func(a, b trialRow) int {
		return cmp.Or(order(b.fault == trial.NoFault, a.fault == trial.NoFault), order(a.outside, b.outside),
			cmp.Compare(main[a], main[b]), cmp.Compare(a.fault, b.fault))
	})
	for i, row := range t.rows {
		all := rows[row]
		t.rows[i].walks = all
		for k, column := range t.columns {
			at := key{row.fault, row.outside, column.id}
			c, there := sums[at]
			if !there {
				continue
			}
			c.row, c.column = i, k
			c.share = float64(c.walks) / float64(max(all, 1))
			c.grade = matrix.GradeOf(r, findingIn(r, column.id), row.fault, row.outside, c.wrong)
			t.cells = append(t.cells, c)
		}
	}
	return t
}

// order puts false before true.
func order(a, b bool) int {
	switch {
	case a == b:
		return 0
	case b:
		return -1
	}
	return 1
}

// findingIn is a finding of a report, empty if it has none of that name.
func findingIn(r *trial.Report, id string) trial.Finding {
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	return trial.Finding{ID: id}
}

// worst lists the cells whose finding does not name the fault and does not
// declare it, the worst first: false all-clears, then dangerous faults, then by
// the number of walks. Faults outside the scope count only if falsely cleared.
func (t trialTable) worst() []trialCell {
	var out []trialCell
	for _, c := range t.cells {
		if c.grade == matrix.False || c.grade > matrix.Declared && !t.rows[c.row].outside {
			out = append(out, c)
		}
	}
	slices.SortStableFunc(out, func(a, b trialCell) int {
		return cmp.Or(cmp.Compare(b.grade, a.grade), cmp.Compare(b.walks, a.walks))
	})
	return out
}

// bands splits the table so that each part has at most so many columns. Rows
// without a walk in a part are left out of it.
func (t trialTable) bands(most int) []trialTable {
	n := (len(t.columns) + most - 1) / most
	var out []trialTable
	for b := range n {
		from, to := b*len(t.columns)/n, (b+1)*len(t.columns)/n
		part := trialTable{columns: t.columns[from:to]}
		at := map[int]int{}
		for _, c := range t.cells {
			if c.column < from || c.column >= to {
				continue
			}
			row, known := at[c.row]
			if !known {
				row = len(part.rows)
				at[c.row] = row
				part.rows = append(part.rows, t.rows[c.row])
			}
			c.row, c.column = row, c.column-from
			part.cells = append(part.cells, c)
		}
		out = append(out, part)
	}
	return out
}

// cellWords says a cell in a sentence; name turns a fault's id into its title.
func (t trialTable) cellWords(c trialCell, name func(id string) string) string {
	row, column := t.rows[c.row], t.columns[c.column]
	title, grade := strings.TrimRight(column.title, "."), gradeWords(c.grade)
	if row.fault == trial.NoFault && c.grade == matrix.Named {
		grade = "no fault is found there"
	}
	text := fmt.Sprintf("%s: %s of its %s (%s) ended at %d, “%s”. %s.", name(row.fault), thousands(c.walks), countOf(row.walks, "walk"), percentOf(c.share), column.number, title, sentenceCase(grade))
	if c.wrong > 0 && c.wrong < c.walks {
		text += fmt.Sprintf(" %s of them are false.", thousands(c.wrong))
	}
	if row.outside {
		text += " The fault lies outside the tree's scope."
	}
	return text
}

// percentOf writes a share: whole percent, with one digit below ten.
func percentOf(share float64) string {
	switch p := 100 * share; {
	case p == 0:
		return "0 %"
	case p < 0.1:
		return "less than 0.1 %"
	case p > 99 && p < 100: // never rounded up to all
		return fmt.Sprintf("%.1f %%", math.Floor(10*p)/10)
	case p < 10:
		return strings.TrimSuffix(fmt.Sprintf("%.1f", p), ".0") + " %"
	default:
		return fmt.Sprintf("%.0f %%", p)
	}
}

// thousands writes a whole number with commas.
func thousands(n int) string {
	s := itoa(n)
	for i := len(s) - 3; i > 0 && s[i-1] != '-'; i -= 3 {
		s = s[:i] + "," + s[i:]
	}
	return s
}

func sentenceCase(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}
