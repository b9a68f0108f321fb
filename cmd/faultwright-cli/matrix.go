package main

import (
	"fmt"
	"slices"
	"strings"

	"faultwright/content/figure"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/trial"
)

// grade says how bad a cell of the matrix is.
type grade uint8

const (
	gradeNamed    grade = iota // the finding names the fault, or finds nothing on a healthy rig
	gradeDeclared              // it says that it cannot exclude it
	gradeAbsent                // it does neither, and the fault is not dangerous or lies outside the scope
	gradeSilent                // it does neither, and the fault is dangerous
	gradeFalse                 // a false all-clear
)

// Sizes in drawing units.
const (
	cellWidth, cellHeight = 36.0, 18.0
	namesWidth            = 250.0
	top                   = 84.0
	small                 = 12.0
)

var grades = [...]struct {
	fill, ink figure.Role
	words     string
}{
	gradeNamed:    {figure.NoticeFill, figure.OnNotice, "named, or nothing found on a healthy rig"},
	gradeDeclared: {figure.CautionFill, figure.OnCaution, "declared: cannot be excluded"},
	gradeAbsent:   {figure.Line, figure.Ink, "neither; not dangerous, or outside the scope"},
	gradeSilent:   {figure.WarningFill, figure.OnWarning, "?  dangerous, neither named nor declared"},
	gradeFalse:    {figure.DangerFill, figure.OnDanger, "!  false all-clear"},
}

type matrixPlace struct{ fault, finding string }

type matrixTotal struct{ walks, wrong int }

// matrixOf is the confusion matrix of a report: faults down, findings across by
// number with their names below, shares of the fault's walks in percent. The
// walks of both roles are put together. Faults outside the scope stand at the
// end, marked with a star.
func matrixOf(r *trial.Report) figure.Drawing {
	rows, cells, rowTotal := countCells(r)
	var columns []string
	info := map[string]trial.FindingReport{}
	for _, f := range r.Findings {
		info[f.ID] = f
		if f.Walks > 0 || slices.ContainsFunc(r.Cells, func(c trial.Cell) bool { return c.Finding == f.ID }) {
			columns = append(columns, f.ID)
		}
	}
	width := namesWidth + cellWidth*float64(len(columns)) + 20
	below := top + cellHeight*float64(len(rows)) + 30
	d := figure.Drawing{Width: max(width, 760), Height: below + 18*float64(len(columns)+len(grades)) + 20,
		Title:       "Where the drawn rigs of the tree " + r.Tree + " end",
		Description: fmt.Sprintf("%d rigs, %d false all-clears, isolation %.1f %%. Rows are faults, columns findings.", r.Rigs, r.FalseAllClears, 100*r.Isolation)}
	add := func(items ...figure.Item) { d.Items = append(d.Items, items...) }
	text := func(x, y float64, a figure.Anchor, size float64, ink figure.Role, bold bool, value string) {
		add(figure.Text{At: figure.Point{X: x, Y: y}, Value: value, Size: size, Bold: bold, Anchor: a, Ink: ink})
	}
	add(box(0, 0, d.Width, d.Height, figure.Panel, figure.None))
	text(16, 28, figure.Start, 18, figure.Ink, true, d.Title)
	text(16, 50, figure.Start, 13, figure.Soft, false, d.Description)
	for k := range columns {
		text(namesWidth+cellWidth*(float64(k)+0.5), top-8, figure.Middle, small, figure.Ink, true, fmt.Sprint(k+1))
	}
	for i, row := range rows {
		y := top + cellHeight*float64(i)
		text(namesWidth-8, y+13, figure.End, small, figure.Ink, false, row)
		for k, column := range columns {
			x := namesWidth + cellWidth*float64(k)
			c, there := cells[matrixPlace{row, column}]
			if !there {
				add(box(x, y, x+cellWidth, y+cellHeight, figure.None, figure.Line))
				continue
			}
			bad := gradeOf(r, info[column], strings.TrimSuffix(row, " *"), strings.HasSuffix(row, " *"), c.wrong)
			add(box(x, y, x+cellWidth, y+cellHeight, grades[bad].fill, figure.Line))
			text(x+cellWidth/2, y+13, figure.Middle, small, grades[bad].ink, bad >= gradeSilent, share(c.walks, rowTotal[row], bad))
		}
	}
	y := below
	for k, column := range columns {
		text(16, y, figure.Start, small, figure.Ink, false, fmt.Sprintf("%d  %s: %s", k+1, column, info[column].Title))
		y += 18
	}
	for _, g := range grades {
		add(box(16, y-11, 16+cellWidth/2, y+3, g.fill, figure.Line))
		text(16+cellWidth/2+8, y, figure.Start, small, figure.Ink, false, g.words)
		y += 18
	}
	return d
}

// countCells is the rows of the matrix, the walks in each of its cells, and how many
// walks a row has. Faults outside the scope come last.
func countCells(r *trial.Report) (rows []string, cells map[matrixPlace]matrixTotal, rowTotal map[string]int) {
	cells, rowTotal = map[matrixPlace]matrixTotal{}, map[string]int{}
	for _, outside := range []bool{false, true} {
		for _, c := range r.Cells {
			if c.Outside != outside {
				continue
			}
			row := c.Fault
			if outside {
				row += " *"
			}
			rows = lists.With(rows, row)
			at := matrixPlace{row, c.Finding}
			t := cells[at]
			cells[at] = matrixTotal{t.walks + c.Walks, t.wrong + c.False}
			rowTotal[row] += c.Walks
		}
	}
	return rows, cells, rowTotal
}

// share is a share in whole percent; the worst cells carry a sign, so that
// colour is not all that marks them.
func share(walks, all int, g grade) string {
	s := "<1"
	if percent := 100 * walks / max(all, 1); percent > 0 {
		s = fmt.Sprint(percent)
	}
	switch g {
	case gradeSilent:
		return "?" + s
	case gradeFalse:
		return "!" + s
	}
	return s
}

// gradeOf is how bad it is that walks with a fault end at a finding, of which
// so many are false all-clears. Walks with a fault outside the scope of the
// tree are bad only if they are false.
func gradeOf(r *trial.Report, f trial.FindingReport, fault string, outside bool, wrong int) grade {
	switch {
	case wrong > 0:
		return gradeFalse
	case slices.Contains(f.Names, fault):
		return gradeNamed
	case fault == trial.NoFault && slices.ContainsFunc(r.Cells, func(c trial.Cell) bool { return c.Fault == fault && c.Finding == f.ID && c.Credit > 0 }):
		return gradeNamed
	case !outside && slices.ContainsFunc(f.Missing, func(g trial.Gap) bool { return g.Fault == fault }):
		return gradeSilent
	case slices.Contains(f.Declared, fault):
		return gradeDeclared
	}
	return gradeAbsent
}

func box(left, top, right, bottom float64, fill, stroke figure.Role) figure.Polygon {
	return figure.Polygon{Points: []figure.Point{{X: left, Y: top}, {X: right, Y: top}, {X: right, Y: bottom}, {X: left, Y: bottom}}, Fill: fill, Stroke: stroke, Width: 1}
}
