package sheet

import "fmt"

const (
	unaskedHeading = "Readings given that no step asked for"

	loopLine = "Whether the supply's ground can clear a fault is shown by a loop test alone. None of these readings is one, and nobody without the training loads hot to ground to try it."

	nothingListed = "No fault is listed here. That is not a statement that none is left: what was not measured was not examined."

	afterLine = "Read the same points again, with the meter proved before and after. A reading in the range looked for shows no fault at that point, then and there. It proves nothing else."
)

// faultsHeading stands before the faults of a finding.
func faultsHeading(n int) string {
	if n == 1 {
		return "Fault named by these readings"
	}
	return "Faults that fit these readings"
}

// repairFields are the lines to be filled in by hand.
var repairFields = [...]string{"Repaired by (name, licence)", "Date", "What was done", "Signature"}

// measuredLine says how much was measured, and how.
func measuredLine(p page) string {
	taken := 0
	for _, r := range p.rows {
		if r.within != "" {
			taken++
		}
	}
	switch taken {
	case 0:
		return "No reading with a number was taken."
	case 1:
		return "One reading with a number was taken; the table above gives it with the meter's uncertainty."
	}
	return fmt.Sprintf("%d readings with a number were taken, in the order of the table above, each with the meter's uncertainty.", taken)
}
