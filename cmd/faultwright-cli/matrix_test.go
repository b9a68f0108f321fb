package main

import (
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

func TestGradesAndPlaces(t *testing.T) {
	d, cells := matrixOf(matrixReport())
	want := map[string]grade{
		"no-fault post#clear": gradeNamed, "open-ground post#clear": gradeFalse, "open-neutral post#dead": gradeSilent, "open-neutral post#clear": gradeAbsent,
		"rod-only-ground post#clear": gradeDeclared, "supply-dead post#dead": gradeNamed, "wet-cord post#clear": gradeAbsent,
	}
	if len(cells) != len(want) {
		t.Errorf("%d cells are drawn, want %d", len(cells), len(want))
	}
	for i, s := range cells {
		if got, ok := want[s.fault+" "+s.finding]; !ok || got != s.grade {
			t.Errorf("%s at %s is graded %d, want %d", s.fault, s.finding, s.grade, got)
		}
		if s.Left < 0 || s.Top < 0 || s.Right > d.Width || s.Bottom > d.Height {
			t.Errorf("cell %v lies outside the drawing", s.Box)
		}
		for _, o := range cells[:i] {
			if s.Overlaps(o.Box) {
				t.Errorf("%s and %s overlap", s.fault, o.fault)
			}
		}
	}
}

// Colour alone marks nothing: the worst cells carry a sign.
func TestTheWorstCellsCarryASign(t *testing.T) {
	d, _ := matrixOf(matrixReport())
	svg := figure.SVG(d, figure.Light())
	for _, text := range []string{">!100<", ">?25<", ">wet-cord *<", "1  post#clear: Nothing shown", "3 false all-clears"} {
		if !strings.Contains(svg, text) {
			t.Errorf("the picture lacks %q", text)
		}
	}
}

func TestNoTextLeavesThePicture(t *testing.T) {
	d, _ := matrixOf(matrixReport())
	for _, item := range d.Items {
		if text, ok := item.(figure.Text); ok {
			if b := text.Bounds(); b.Left < 0 || b.Right > d.Width || b.Bottom > d.Height {
				t.Errorf("%q reaches from %.0f to %.0f of %.0f", text.Value, b.Left, b.Right, d.Width)
			}
		}
	}
}
