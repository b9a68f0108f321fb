package trial

import (
	"math"

	"faultwright/faulttree"
)

const (
	notTaken = -1000
	overTop  = 1000
)

// told is [faulttree.Meter.Told] of a reading; OL lies above all, and what was not
// taken below.
func told(m faulttree.Meter, r faulttree.Reading, u faulttree.Unit) float32 {
	switch r.Quality {
	case faulttree.NotPossible:
		return notTaken
	case faulttree.OverRange:
		return overTop
	}
	return float32(m.Told(r.High.Float(), u))
}

// toldSum is the same for a sum of readings, whose greatest is largest: what the
// meter's scale is off is common to them, so that in a difference the counts add
// and the share of the reading cancels.
func toldSum(m faulttree.Meter, total, largest faulttree.Amount, readings int, u faulttree.Unit) float32 {
	step := faulttree.TimesError * float64(readings*m.Accuracy(u).Counts) * m.Count(largest, u).Float()
	return float32(math.Copysign(math.Floor(math.Abs(total.Float())/step), total.Float()))
}
