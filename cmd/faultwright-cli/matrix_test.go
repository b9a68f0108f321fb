package main

import (
	"slices"
	"strings"
	"testing"

	"faultwright/content/figure"
	"faultwright/faulttree/trial"
)

func matrixReport() *trial.Report {
	return &trial.Report{Tree: "post", Rigs: 40, FalseAllClears: 3,
		Findings: []trial.FindingReport{
			{ID: "post#clear", Title: "Nothing shown", Declared: []string{"rod-only-ground"}, Missing: []trial.Gap{{Fault: "open-ground"}}},
			{ID: "post#dead", Title: "No supply", Names: []string{"supply-dead"}, Missing: []trial.Gap{{Fault: "open-neutral"}}},
		},
		Cells: []trial.Cell{
			{Role: "owner", Fault: trial.NoFault, Finding: "post#clear", Walks: 10, Credit: 1},
			{Role: "owner", Fault: "open-ground", Finding: "post#clear", Walks: 3, False: 3, Draw: 12},
			{Role: "owner", Fault: "open-neutral", Finding: "post#dead", Walks: 1, Draw: 21},
			{Role: "qualified", Fault: "open-neutral", Finding: "post#clear", Walks: 3, Draw: 20},
			{Role: "owner", Fault: "rod-only-ground", Finding: "post#clear", Walks: 5, Draw: 30},
			{Role: "owner", Fault: "supply-dead", Finding: "post#dead", Walks: 5, Credit: 1, Draw: 35},
			{Role: "owner", Fault: "wet-cord", Finding: "post#clear", Walks: 5, Draw: 40, Outside: true},
		}}
}

// The cells stand row by row, one for each fault and finding, in the fill of
// their grade; empty where no walk ended.
func TestGradesAndPlaces(t *testing.T) {
	d := matrixOf(matrixReport())
	fill := func(g grade) figure.Role { return grades[g].fill }
	want := []figure.Role{
		fill(gradeNamed), figure.None, // no-fault
		fill(gradeFalse), figure.None, // open-ground
		fill(gradeAbsent), fill(gradeSilent), // open-neutral
		fill(gradeDeclared), figure.None, // rod-only-ground
		figure.None, fill(gradeNamed), // supply-dead
		fill(gradeAbsent), figure.None, // wet-cord
	}
	var got []figure.Role
	for _, item := range d.Items {
		p, ok := item.(figure.Polygon)
		if !ok || p.Points[2].X-p.Points[0].X != cellWidth {
			continue
		}
		at := figure.Point{X: namesWidth + cellWidth*float64(len(got)%2), Y: top + cellHeight*float64(len(got)/2)}
		if end := p.Points[2]; p.Points[0] != at || end.Y != at.Y+cellHeight || end.X > d.Width || end.Y > d.Height {
			t.Errorf("cell %d stands from %v to %v in %v x %v", len(got), p.Points[0], end, d.Width, d.Height)
		}
		got = append(got, p.Fill)
	}
	if !slices.Equal(got, want) {
		t.Errorf("the cells are filled %v, want %v", got, want)
	}
}

// Colour alone marks nothing: the worst cells carry a sign.
func TestTheWorstCellsCarryASign(t *testing.T) {
	d := matrixOf(matrixReport())
	svg := figure.SVG(d, figure.Light())
	for _, text := range []string{">!100<", ">?25<", ">wet-cord *<", "1  post#clear: Nothing shown", "3 false all-clears"} {
		if !strings.Contains(svg, text) {
			t.Errorf("the picture lacks %q", text)
		}
	}
}

func TestNoTextLeavesThePicture(t *testing.T) {
	d := matrixOf(matrixReport())
	for _, item := range d.Items {
		if text, ok := item.(figure.Text); ok {
			if b := text.Bounds(); b.Left < 0 || b.Right > d.Width || b.Bottom > d.Height {
				t.Errorf("%q reaches from %.0f to %.0f of %.0f", text.Value, b.Left, b.Right, d.Width)
			}
		}
	}
}
