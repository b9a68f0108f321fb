package meter

import (
	"math"
	"slices"
	"strconv"

	"faultwright/faulttree"
)

// scale is one range of a meter.
type scale struct {
	step     faulttree.Amount // one count
	most     int64            // counts; beyond is over-range
	unit     string           // as the display shows it, "mV"
	decimals int              // digits after the point in that unit
	accuracy faulttree.Accuracy
}

// full is the largest value that the range shows.
func (s *scale) full() faulttree.Amount { return s.step * faulttree.Amount(s.most) }

// Face is the ranges of a meter and the accuracy on each. It does not change,
// so any number of goroutines may share one.
type Face struct {
	Model  faulttree.Meter
	scales [faulttree.AmpsDC + 1][]scale
	milli  string // the note on a figure in thousandths
	one    string // the note on a lone 1
}

// NewFace is the face of a model: a 6000-count meter has 600 mV, 6, 60, 600
// and 1000 V; 600 Ω, 6, 60, 600 kΩ, 6 and 60 MΩ; and 6, 60 and 400 A on its
// clamp. Ranges are common practice, no source.
func NewFace(model faulttree.Meter) *Face {
	f := &Face{Model: model}
	counts := int64(max(model.FullScale, 100))
	f.Model.FullScale = int(counts)
	const one = faulttree.One
	show := func(step faulttree.Amount, unit string, decimals int) scale {
		return scale{step: step, most: counts - 1, unit: unit, decimals: decimals}
	}
	volts := []scale{show(one/10000, "mV", 1), show(one/1000, "V", 3), show(one/100, "V", 2), show(one/10, "V", 1), show(one, "V", 0)}
	amperes := []scale{show(one/1000, "A", 3), show(one/100, "A", 2), show(one/10, "A", 1), show(one, "A", 0)}
	ohms := []scale{
		show(one/10, "Ω", 1), show(one, "kΩ", 3), show(10*one, "kΩ", 2), show(100*one, "kΩ", 1), show(1000*one, "MΩ", 3), show(10000*one, "MΩ", 2),
	}
	for u, all := range map[faulttree.Unit][]scale{
		faulttree.VoltsAC: volts, faulttree.VoltsDC: volts, faulttree.AmpsAC: amperes, faulttree.AmpsDC: amperes, faulttree.Ohms: ohms,
	} {
		f.scales[u] = trusted(model, u, until(all, model, u))
	}
	f.milli, f.one = note("1.0 mV"), note("1 V")
	return f
}

// trusted is the scales of a function with the accuracy of the model on each. What it
// may be off by on a range of coarser steps counts in steps of the scale.
func trusted(model faulttree.Meter, u faulttree.Unit, all []scale) []scale {
	for i := range all {
		s := &all[i]
		on := model.Range(u, s.full())
		s.accuracy = on.Accuracy
		s.accuracy.Counts *= int(max(1, on.Count/s.step))
	}
	return all
}

// until is a copy of the scales of a function up to the first that reaches where the
// model's highest range ends, which ends there.
func until(all []scale, model faulttree.Meter, u faulttree.Unit) []scale {
	top := model.Top(u)
	all = slices.Clone(all)
	for i := range all {
		if s := &all[i]; s.full()+s.step >= top {
			s.most = min(s.most, int64(top/s.step))
			return all[:i+1]
		}
	}
	return all
}

// note is what [faulttree.ParseReading] remarks on a volt reading.
func note(text string) string {
	r, _ := faulttree.ParseReading(text, faulttree.Quantity{Unit: faulttree.VoltsDC})
	return r.Note
}

// Ranges lists the ends of the ranges for a unit, rounded to the round number
// that is printed beside the dial: 600 mV rather than 599.9 mV.
func (f *Face) Ranges(u faulttree.Unit) []faulttree.Amount {
	var ends []faulttree.Amount
	for i := range f.scales[u] {
		s := &f.scales[u][i]
		ends = append(ends, f.end(s))
	}
	return ends
}

// end is the round number of a range.
func (f *Face) end(s *scale) faulttree.Amount {
	if s.most == int64(f.Model.FullScale)-1 {
		return s.full() + s.step
	}
	return s.full()
}

// figure is what a display shows.
type figure struct {
	scale  *scale
	counts int64
	over   bool
}

// figure rounds a value to the counts of its range, after an error of noise
// times the most that the accuracy allows, noise from -1 to 1.
func (f *Face) figure(value float64, u faulttree.Unit, reach faulttree.Amount, noise float64) figure {
	sign := 1.0
	if value < 0 {
		value = -value
		if u.Signed() {
			sign = -1
		}
	}
	value *= float64(faulttree.One)
	all := f.scales[u]
	for i := range all {
		s := &all[i]
		last := i == len(all)-1
		if reach > 0 && !last && f.end(s) < reach {
			continue
		}
		x := value + noise*allowed(value, s)
		if reach <= 0 && i > 0 && noise < 0 {
			// The range below did not show it: nor does a low reading on this
			// one pretend that it would have.
			x = max(x, min(value, float64(f.end(&all[i-1])+s.step)))
		}
		if counts := math.Round(x / float64(s.step)); counts <= float64(s.most) {
			if !u.Signed() {
				counts = max(counts, 0)
			}
			return figure{scale: s, counts: int64(sign * counts)}
		}
		if reach > 0 || last {
			return figure{scale: s, over: true}
		}
	}
	return figure{over: true}
}

// allowed is the largest error, in billionths, that still leaves the value
// inside the accuracy as it is applied to the rounded display.
func allowed(size float64, s *scale) float64 {
	a := s.accuracy
	share := float64(a.Percent) / float64(100*faulttree.One)
	counts := max(0, float64(a.Counts)*(1-share)-0.5)
	return (size*share/(1+share) + counts*float64(s.step)) * (1 - 1e-9)
}

// Display is the reading of a value in volts, ohms or amperes, without its
// text. Reach sets the range by hand, to the first that reaches it; 0 is
// automatic. Noise from -1 to 1 is how much of the accuracy is used up. It
// takes no memory, so that a trial can ask it a million times; text and
// [faulttree.ParseReading] would give the same, as a test holds.
func (f *Face) Display(value float64, u faulttree.Unit, reach faulttree.Amount, noise float64) faulttree.Reading {
	if math.IsNaN(value) {
		return faulttree.NotTaken(undefined)
	}
	return f.reading(f.figure(value, u, reach, noise))
}

// Shown is what stands on the display for a value in volts, ohms or amperes, on
// the range that fits it; noise is that of [Face.Display].
func (f *Face) Shown(value float64, u faulttree.Unit, noise float64) Shown {
	g := f.figure(value, u, 0, noise)
	return Shown{Text: g.text(), Unit: g.scale.unit, Reading: f.reading(g)}
}

// undefined is the reason where nothing decides what is between two points.
const undefined = "nothing decides what is between these points"

func (f *Face) reading(g figure) faulttree.Reading {
	if g.over {
		return faulttree.Reading{Quality: faulttree.OverRange}
	}
	value := faulttree.Amount(g.counts) * g.scale.step
	r := faulttree.Reading{Quality: faulttree.Steady, Low: value, High: value, Resolution: g.scale.step}
	switch {
	case g.scale.unit == "mV":
		r.Note = f.milli
	case g.counts == 1 && g.scale.decimals == 0:
		r.Note = f.one
	}
	return r
}

// text is the digits of a figure, "119.9" or "OL".
func (g figure) text() string {
	if g.over {
		return "OL"
	}
	var room [24]byte
	out := room[:0]
	if g.counts < 0 {
		out = append(out, '-')
	}
	digits := strconv.FormatInt(max(g.counts, -g.counts), 10)
	for len(digits) <= g.scale.decimals {
		digits = "0" + digits
	}
	point := len(digits) - g.scale.decimals
	out = append(out, digits[:point]...)
	if g.scale.decimals > 0 {
		out = append(append(out, '.'), digits[point:]...)
	}
	return string(out)
}
