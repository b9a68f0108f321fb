package sheet

import (
	"time"

	"faultwright/content/view"
	"faultwright/faulttree"
)

// Input is everything a sheet is made from. Only Walk must be set.
type Input struct {
	ID      string // of the visit
	Site    string // in the reader's words, like Vehicle and Note
	Vehicle string
	Note    string
	Started time.Time
	Printed time.Time

	Walk    faulttree.Walk // the current walk; after a repair, the test
	Aside   []Aside        // answers of it that no longer count
	Unasked []Measured     // readings given that no step of it asked for
	Again   bool           // Walk is a test after repair
	Began   time.Time      // of the test after repair

	Untested time.Time // when a test after repair was begun in which nothing has been read yet

	Before []Round // earlier walks of the same visit, oldest first

	Fits *view.Suspects // what fits the readings of Walk; nil where that was not worked out
}

// Round is an earlier walk of a visit.
type Round struct {
	Began time.Time
	Walk  faulttree.Walk
	Aside []Aside
}

// Measured is a reading of a quantity.
type Measured struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading
}

// Aside is an answer that was given and does not count any more: taken back,
// changed, or no longer asked for.
type Aside struct {
	At   time.Time
	What string // "Body to the earth spike: 58 V"
	Why  string // "Taken back."
}

// stamp is how the sheet writes a time.
const stamp = "2 January 2006, 15:04"

func when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(stamp)
}
