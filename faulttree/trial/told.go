package trial

import (
	"math"

	"faultwright/faulttree"
)

// timesError is how many times the meter's error two readings must lie apart
// before a verdict may rest on it.
const timesError = 4

const (
	notTaken = -1000
	overTop  = 1000
)

// told is a reading as finely as a verdict may rest on it: the number of steps
// from 0 to it, each of four times the meter's error there. What is less apart
// tells drawn vehicles from one another, and real ones seldom.
func told(m faulttree.Meter, r faulttree.Reading, u faulttree.Unit) float32 {
	switch r.Quality {
	case faulttree.NotPossible:
		return notTaken
	case faulttree.OverRange:
		return overTop
	}
	value := r.High.Float()
	accuracy := m.Accuracy(u)
	share := accuracy.Percent.Float() / 100
	steps, from := 0.0, 0.0
	for count := countOf(m, 0, u).Float(); from < math.Abs(value); count *= 10 {
		counts := float64(accuracy.Counts) * count
		to := min(math.Abs(value), float64(m.FullScale)*count)
		steps += math.Log((share*to+counts)/(share*from+counts)) / (timesError * share)
		from = to
	}
	return float32(math.Copysign(math.Floor(steps), value))
}

// toldSum is the same for a sum of readings, whose greatest is largest: what the
// meter's scale is off is common to them, so that in a difference the counts add
// and the share of the reading cancels.
func toldSum(m faulttree.Meter, total, largest faulttree.Amount, readings int, u faulttree.Unit) float32 {
	step := timesError * float64(readings*m.Accuracy(u).Counts) * countOf(m, largest, u).Float()
	return float32(math.Copysign(math.Floor(math.Abs(total.Float())/step), total.Float()))
}

// countOf is one count of the meter on the range that a reader takes for a value.
func countOf(m faulttree.Meter, value faulttree.Amount, u faulttree.Unit) faulttree.Amount {
	if u == faulttree.VoltsAC {
		value = max(value.Abs(), smallVolts*faulttree.One)
	} else {
		value = max(value.Abs(), faulttree.One)
	}
	return m.Resolution(value)
}
