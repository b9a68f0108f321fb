package faulttree

import (
	"fmt"
	"math/bits"
	"slices"
	"time"
)

// Accuracy is the way makers state it: ± (Percent of the reading + Counts of
// the last digit of the range).
type Accuracy struct {
	Percent Amount `json:"percent"` // of the reading; 1.2 % is 1.2 × One
	Counts  int    `json:"counts"`
}

// Meter is the reader's own meter.
type Meter struct {
	Name       string   `json:"name,omitempty"`
	FullScale  int      `json:"counts"` // 6000 shows up to 599.9 on its 600 V range
	ACVolts    Accuracy `json:"ac_volts"`
	DCVolts    Accuracy `json:"dc_volts"`
	Resistance Accuracy `json:"resistance"` // with the leads nulled
	Current    Accuracy `json:"current"`

	// What its booklet gives for single ranges; elsewhere the function's accuracy
	// counts, on ranges that end at FullScale.
	Ranges Ranges `json:"ranges,omitzero"`

	LowImpedance bool   `json:"low_impedance,omitempty"` // it has a setting that loads what it reads
	Proved       string `json:"proved,omitempty"`        // the day it was last proved, as [time.DateOnly]; "" is not known
}

// DefaultMeter is an ordinary 6000-count meter, ±(1.2 % + 5 counts) on
// alternating volts. The other functions are common practice, no source.
func DefaultMeter() Meter {
	return Meter{
		Name:       "ordinary 6000-count meter",
		FullScale:  6000,
		ACVolts:    Accuracy{12 * One / 10, 5},
		DCVolts:    Accuracy{8 * One / 10, 3},
		Resistance: Accuracy{9 * One / 10, 1},
		Current:    Accuracy{25 * One / 10, 5},
	}
}

// Nameless is the meter by what its readings mean, whatever it is called and whenever
// it was proved: readings of equal meters tell the same.
func (m Meter) Nameless() Meter {
	m.Name, m.LowImpedance, m.Proved = "", false, ""
	return m
}

// MostCounts is the most counts that a meter can have.
const MostCounts = 10_000_000

// Check reports what a meter cannot be, as one from a file may say.
func (m Meter) Check() error {
	if m.FullScale < 100 || m.FullScale > MostCounts {
		return fmt.Errorf("a meter has 100 to %d counts, not %d", MostCounts, m.FullScale)
	}
	for _, a := range []Accuracy{m.ACVolts, m.DCVolts, m.Resistance, m.Current} {
		if a.Percent < 0 || a.Percent > 100*One {
			return fmt.Errorf("%q is not a percentage from 0 to 100", a.Percent)
		}
		if a.Counts < 0 || a.Counts > m.FullScale {
			return fmt.Errorf("%d is not a number of counts of this meter", a.Counts)
		}
	}
	if _, err := time.Parse(time.DateOnly, m.Proved); m.Proved != "" && err != nil {
		return fmt.Errorf("%q is not a day, such as 2026-05-30", m.Proved)
	}
	return nil
}

// Accuracy is the meter's accuracy for a unit, where none is given for the range.
func (m Meter) Accuracy(u Unit) Accuracy {
	switch u {
	case VoltsDC:
		return m.DCVolts
	case Ohms:
		return m.Resistance
	case AmpsAC, AmpsDC:
		return m.Current
	}
	return m.ACVolts
}

// Range is the smallest range of a function that shows a value: one that is listed, or
// else the smallest decade of the display that does; 600 V in steps of 0.1 V for 240 V
// on a 6000-count meter. Beyond the last that is listed, nothing is believed to be
// better than on that one.
func (m Meter) Range(u Unit, value Amount) Range {
	listed := m.Ranges.of(u)
	for _, r := range listed {
		if value.Abs() <= r.Top {
			return r
		}
	}
	r := Range{u, 0, m.decade(value), m.Accuracy(u)}
	if len(listed) > 0 {
		last := listed[len(listed)-1]
		r.Count = max(r.Count, last.Count)
		r.Accuracy = Accuracy{max(r.Percent, last.Percent), max(r.Counts, last.Counts)}
	}
	counts := Amount(max(m.FullScale, 100))
	r.Top = Highest
	if r.Count < Highest/counts {
		r.Top = counts * r.Count
	}
	return r
}

// decade is the value of one count on the smallest decade range that shows value.
func (m Meter) decade(value Amount) Amount {
	counts := Amount(max(m.FullScale, 100))
	step := Amount(1000) // a millionth of a volt
	for step < 1_000_000*One && value.Abs() > counts*step {
		step *= 10
	}
	return step
}

// taken is the range on which a reading was taken. Fewer digits than the range set
// first leave that range; more digits mean a smaller range was used, of those that
// show it.
func (m Meter) taken(r Reading, q Quantity) Range {
	size := max(r.Low.Abs(), r.High.Abs())
	listed := m.Ranges.of(q.Unit)
	if len(listed) == 0 { // most meters, and asked for often
		return Range{Unit: q.Unit, Count: max(m.decade(size), min(r.Resolution, m.decade(q.Range))), Accuracy: m.Accuracy(q.Unit)}
	}
	shows := m.Range(q.Unit, size)
	if !slices.Contains(listed, shows) {
		shows.Count = max(shows.Count, min(r.Resolution, m.decade(q.Range)))
		return shows
	}
	on := m.Range(q.Unit, max(size, q.Range))
	if i := slices.Index(listed, on); i >= 0 {
		listed = listed[:i+1]
	}
	larger := on
	for _, smaller := range slices.Backward(listed) {
		switch {
		case smaller.Count == r.Resolution || smaller == shows && smaller.Count > r.Resolution:
			return smaller
		case smaller.Count < r.Resolution || smaller == shows: // between the two, on a range that is not listed
			if larger.errorAt(size) > smaller.errorAt(size) {
				return larger
			}
			return smaller
		}
		larger = smaller
	}
	return shows
}

// errorAt is what a reading of some size on the range may be off; never more than any
// amount that is typed.
func (r Range) errorAt(size Amount) Amount {
	return min(addWhole(percentOf(size, r.Percent), timesWhole(r.Count, int64(r.Counts))), mostWhole*One)
}

// Uncertainty is half the width of what a reading can mean, in q's base unit:
// Percent of the reading, plus Counts on the range it was taken on, plus half
// of the last typed digit where fewer digits were typed than the range shows.
// It is 0 for a reading without numbers.
func (m Meter) Uncertainty(r Reading, q Quantity) Amount {
	if !r.Numeric() {
		return 0
	}
	size := max(r.Low.Abs(), r.High.Abs())
	on := m.taken(r, q)
	u := on.errorAt(size)
	if r.Resolution > on.Count {
		u += r.Resolution / 2
	}
	return u
}

// percentOf is value × percent / 100, rounded up. It is exact: the product is
// formed in 128 bits. Percent is at most 100.
func percentOf(value, percent Amount) Amount {
	const hundred = uint64(100 * One)
	percent = min(max(percent, 0), 100*One)
	hi, lo := bits.Mul64(uint64(value.Abs()), uint64(percent))
	quotient, rest := bits.Div64(hi, lo, hundred)
	if rest > 0 {
		quotient++
	}
	return Amount(quotient)
}

// Span is every value the reading can mean, within what q can be. Over-range
// and "not possible" give an empty span.
func (m Meter) Span(r Reading, q Quantity) Span {
	if !r.Numeric() {
		return Span{}
	}
	u := m.Uncertainty(r, q)
	low, high := q.Judged(r.Low-u, r.High+u)
	return Only(low, high).Meet(q.Domain())
}
