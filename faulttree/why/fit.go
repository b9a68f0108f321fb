package why

import (
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Reading is what somebody has read of a quantity.
type Reading struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading
	Top      faulttree.Amount // where the highest range of the meter ends, beyond which it shows OL; 0 is not known
}

// Fit turns how bad the faults of a vehicle are, its loads and the volts of its
// supply until it reads what was read, as nearly as it can: all readings together,
// ohms and OL among them. What was not possible, and what is of the meter alone, does
// not count. The vehicle given is where it begins; its faults stay what they are. Off
// is how far it stays from them: about 1 for a reading that is as far off as meter and
// model may be, and 9 for one that does not fit at all.
func Fit(r *rig.Rig, setup rig.Setup, read []Reading) (fitted rig.Setup, off float64, err error) {
	v, err := vehicle.New(r)
	if err != nil {
		return setup, 0, err
	}
	f := fitting{vehicle: v, read: read, setup: rig.Setup{Values: slices.Clone(setup.Values), Faults: slices.Clone(setup.Faults), Varieties: setup.Varieties}}
	f.findDials(r)
	for _, f.width = range []float64{10, 1} { // broadly first, so as not to stop at what is near by chance
		if off, err = f.turn(); err != nil {
			return setup, 0, err
		}
	}
	return f.setup, off, nil
}

// turn turns one dial after the other, by smaller and smaller steps.
func (f *fitting) turn() (off float64, err error) {
	off, err = f.off()
	for step := 0.1; step > 0.002 && err == nil; {
		better := false
		for _, d := range f.dials {
			for _, by := range []float64{step, -step} {
				was := *d.value
				*d.value = d.of.At(min(max(shareOf(d.of, was)+by, 0), 1))
				now, err := f.off()
				if err != nil {
					return 0, err
				}
				if now < off-1e-9 {
					off, better = now, true
					break
				}
				*d.value = was
			}
		}
		if !better {
			step /= 2
		}
	}
	return off, err
}

// fitting is a vehicle under way to some readings.
type fitting struct {
	vehicle *vehicle.Vehicle
	read    []Reading
	setup   rig.Setup
	dials   []fitDial
	width   float64 // how many times the ordinary a reading may be off
}

// fitDial is a number that may be turned, and its range.
type fitDial struct {
	value *float64
	of    *rig.Param
}

func (f *fitting) findDials(r *rig.Rig) {
	for i := range f.setup.Faults {
		if p := f.setup.Faults[i].Fault.Severity; p != nil && p.From < p.To {
			f.dials = append(f.dials, fitDial{&f.setup.Faults[i].Severity, p})
		}
	}
	seen := map[int]bool{}
	for _, part := range r.Parts {
		at := rig.None
		switch {
		case part.Kind == rig.Load && !part.Always:
			at = part.Params[rig.AttrWatts]
		case part.Kind == rig.Source:
			at = part.Params[rig.AttrVolts]
		}
		if at != rig.None && !seen[at] && r.Params[at].From < r.Params[at].To {
			seen[at] = true
			f.dials = append(f.dials, fitDial{&f.setup.Values[at], &r.Params[at]})
		}
	}
}

// shareOf is how far a value stands between the ends of its range.
func shareOf(p *rig.Param, v float64) float64 {
	if p.Log && p.From > 0 {
		return math.Log(v/p.From) / math.Log(p.To/p.From)
	}
	return (v - p.From) / (p.To - p.From)
}

// farOff bounds what one reading counts, so that one that is wrong does not draw
// the others away. The bound is soft: also from far off it is felt which way is nearer.
const farOff = 9.0

func bounded(by float64) float64 {
	if by > 1e6 {
		return farOff
	}
	return farOff * by * by / (farOff + by*by)
}

// off is how far the vehicle's readings are from those that were read.
func (f *fitting) off() (float64, error) {
	if err := f.vehicle.Put(f.setup); err != nil {
		return 0, err
	}
	sum := 0.0
	for _, one := range f.read {
		if one.Reading.Quality == faulttree.NotPossible || one.Quantity.OfMeter() {
			continue
		}
		got, ok, err := f.vehicle.Taken(one.Quantity)
		if err != nil {
			return 0, err
		}
		if ok {
			sum += bounded(deviation(one, got) / f.width)
		} else {
			sum += farOff
		}
	}
	return sum, nil
}

// deviation is how far a value is from a reading, 1 for what a meter and a model may
// be off (common practice, no source).
func deviation(one Reading, got float64) float64 {
	const most = 20e6 // ohms; what is beyond shows OL on many meters
	want := (one.Reading.Low.Float() + one.Reading.High.Float()) / 2
	if one.Reading.Quality == faulttree.OverRange {
		want = math.Inf(1)
		if top := one.Top.Float(); top > 0 && one.Quantity.Unit == faulttree.Ohms {
			want = max(top, got) // all of that shows OL
		}
	}
	if one.Quantity.SizeOnly {
		got, want = math.Abs(got), math.Abs(want)
	}
	if one.Quantity.Unit == faulttree.Ohms {
		const contacts = 0.2
		// Insulation and moisture are what they are on the day: from a kilohm up the
		// model knows them less and less.
		known := min(1, 0.1+0.3*max(0, math.Log10(min(want, most)/1000)))
		return math.Abs(math.Log((min(got, most)+contacts)/(min(want, most)+contacts))) / known
	}
	if math.IsInf(want, 0) {
		return 0
	}
	return math.Abs(got-want) / (0.3 + 0.02*math.Abs(want))
}
