package faulttree

import "math"

// TimesError is how many times the meter's error two readings must lie apart
// before a verdict may rest on it.
const TimesError = 4

// SmallVolts is the lowest range that a reader turns to for an alternating
// voltage: below 20 V the trees ask for one step down from the 600 V range and
// no more, since on a range below that one mV are read as V. The smallest
// limit of the trees, 3 V, needs no finer one.
const SmallVolts = 60

// leastShare is the smallest error of a reading that is believed of a meter.
const leastShare = 1e-4

// Steps is a value as finely as a verdict may rest on it: the number of steps
// from 0 to it, each of [TimesError] times the meter's error there. What is less
// apart tells drawn vehicles from one another, and real ones seldom.
func (m Meter) Steps(value float64, u Unit) float64 {
	steps, from := 0.0, 0.0
	for count := m.Count(0, u).Float(); from < math.Abs(value); count *= 10 {
		to := min(math.Abs(value), float64(max(m.FullScale, 100))*count)
		on := m.Range(u, Amount(min(to, 1e9)*float64(One))-1000) // a millionth below its end, whatever the fractions
		share := max(on.Percent.Float()/100, leastShare)
		counts := max(1, float64(on.Counts)) * max(count, on.Count.Float())
		steps += math.Log((share*to+counts)/(share*from+counts)) / (TimesError * share)
		from = to
	}
	return math.Copysign(math.Floor(steps), value)
}

// Count is one count of the meter on the range that a reader takes for a value.
func (m Meter) Count(value Amount, u Unit) Amount {
	if u == VoltsAC {
		value = max(value.Abs(), SmallVolts*One)
	} else {
		value = max(value.Abs(), One)
	}
	return m.Range(u, value).Count
}
