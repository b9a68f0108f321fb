package class

import (
	"fmt"

	"faultwright/faulttree/rubric"
)

// RubricLine is a line of how attempts are marked.
type RubricLine struct{ Title, Text string }

// CapLines are the unsafe acts and what each leaves at most, in words.
func CapLines(r rubric.Rubric) []RubricLine {
	var out []RubricLine
	for _, c := range r.Caps {
		out = append(out, RubricLine{c.Title, fmt.Sprintf("%d of 100", c.Most)})
	}
	return out
}

// PartLines are the parts of the marks and what each is worth, in words.
func PartLines(r rubric.Rubric) []RubricLine {
	var out []RubricLine
	for _, p := range r.Parts {
		out = append(out, RubricLine{p.Title, fmt.Sprint(p.Points)})
	}
	return out
}
