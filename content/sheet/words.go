package sheet

import (
	"faultwright/content/view"
	"faultwright/faulttree"
)

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
