package faulttree

import "math"

// Top is where the highest range of a meter for a unit ends, in that unit; beyond it
// the display shows OL. It is the highest of those that are listed of the function.
// Where none is, in ohms it shows ten kilohms a count there: common practice, no source.
func (m Meter) Top(u Unit) Amount {
	if listed := m.Ranges.of(u); len(listed) > 0 {
		return listed[len(listed)-1].Top
	}
	switch u {
	case Ohms:
		const each = 10_000 * One
		return min(Amount(max(m.FullScale, 100)), mostTop/each) * each
	case AmpsAC, AmpsDC:
		return 400 * One
	}
	return 1000 * One
}

// Display is what a meter without error shows of a value of q, on the smallest
// range that shows it; nothing of one that is not decided, NaN.
func (m Meter) Display(value float64, q Quantity) Reading {
	if math.IsNaN(value) {
		return NotTaken("nothing decides it")
	}
	if math.Abs(value) > m.Top(q.Unit).Float() {
		return Reading{Text: "OL", Quality: OverRange}
	}
	a := Amount(math.Round(value * float64(One)))
	count := m.Range(q.Unit, a).Count
	a = a.nearest(count)
	return Reading{Text: a.With(q.Unit), Low: a, High: a, Resolution: count}
}

// About words what a meter would show of a value of q that is worked out, not read:
// in counts of the range that is set first, or of a higher one that the value needs,
// and in three figures at most, for no two vehicles are more alike. "118 V", "0.2 V",
// "16.7 MΩ", "OL".
func (m Meter) About(value float64, q Quantity) string {
	if q.SizeOnly || q.Unit == VoltsAC || q.Unit == AmpsAC {
		value = math.Abs(value)
	}
	r := m.Display(value, q)
	if !r.Numeric() {
		return r.Text
	}
	step := max(r.Resolution, m.Range(q.Unit, firstRange(q)).Count)
	for r.Low.Abs()/step >= 1000 {
		step *= 10
	}
	return r.Low.nearest(step).With(q.Unit)
}

// firstRange is the range on which q is read first. One of ohms is left for a lower
// one where little is shown on it.
func firstRange(q Quantity) Amount {
	switch {
	case q.Unit == Ohms || q.Range == 0 && q.Unit == VoltsAC:
		return 600 * One
	case q.Range == 0:
		return 60 * One
	}
	return q.Range
}

// nearest is the multiple of a step nearest to an amount.
func (a Amount) nearest(step Amount) Amount {
	if a < 0 {
		return -(-a).nearest(step)
	}
	return (a + step/2) / step * step
}
