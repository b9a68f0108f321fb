package class

import (
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rubric"
)

// RubricLine is a line of how attempts are marked.
type RubricLine struct{ Title, Text string }

// CapLines are the unsafe acts and what each leaves at most, in words.
func CapLines(r rubric.Rubric) []RubricLine {
	return lists.Each(r.Caps, func(c rubric.Cap) RubricLine { return RubricLine{c.Title, fmt.Sprintf("%d of 100", c.Most)} })
}

// PartLines are the parts of the marks and what each is worth, in words.
func PartLines(r rubric.Rubric) []RubricLine {
	return lists.Each(r.Parts, func(p rubric.Part) RubricLine { return RubricLine{p.Title, fmt.Sprint(p.Points)} })
}

// KeyLines are the numbers that the text of a rubric names by their keys.
func KeyLines(r rubric.Rubric) []RubricLine {
	percent := func(share float64) string { return fmt.Sprintf("%.0f %%", 100*share) }
	return []RubricLine{
		{"held", percent(r.Held)}, {"in-doubt", percent(r.InDoubt)}, {"felt", r.Felt.With(faulttree.VoltsAC)}, {"dead-test", fmt.Sprintf("%.0f hundredths of a bit", 100*r.DeadTest)},
		{"guess", fmt.Sprintf("%d points at most, and more as far as the readings hold it", r.Guess)}, {"again", fmt.Sprintf("%d points less", r.Again)}, {"hint", fmt.Sprintf("%d points less, of those for readings and exposure", r.Hint)},
		{"full", percent(r.FullAt) + " of the cost of the best order"}, {"none", percent(r.NoneFrom) + " of it"},
	}
}
