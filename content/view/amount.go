package view

import (
	"fmt"

	"faultwright/faulttree"
)

// overRange is what OL is called in a sentence.
const overRange = "over the meter's range"

// Uncertainty words the half width of a reading in two figures, rounded away
// from zero so that the shown interval is never narrower than the judged one:
// "±0.70 V"; "" for a reading without numbers.
func Uncertainty(r faulttree.Reading, q faulttree.Quantity, m faulttree.Meter) string {
	u := m.Uncertainty(r, q)
	if u <= 0 {
		return ""
	}
	step := faulttree.Amount(1)
	for u >= 100*step {
		step *= 10
	}
	if u = u.RoundUp(step); u >= 100*step { // 0.998 is 1.0, not 1.00
		step *= 10
	}
	return "±" + faulttree.Reading{Low: u, High: u, Resolution: step}.Show(q.Unit)
}

// Count words a number of things: "1 reading", "4 readings".
func Count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}

// ReadingsTaken words how many readings a walk has taken. What could not be
// measured is none; a chart that is passed takes none.
func ReadingsTaken(w faulttree.Walk) string { return Count(w.Readings(), "reading") }

// TakenAmong counts the readings taken among some lines, as a walk counts them.
func TakenAmong(lines []Line) int {
	n := 0
	for _, l := range lines {
		if l.Taken {
			n++
		}
	}
	return n
}
