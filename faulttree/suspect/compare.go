package suspect

import (
	"math"
	"strings"

	"faultwright/faulttree"
)

// reading is one reading, made ready to be held against what cases read.
type reading struct {
	scale
	over      bool    // the display showed OL
	sizeOnly  bool    // of what cases read the sign does not count either
	many      bool    // the unit is one whose large values are compared in the logarithm
	value     float64 // the middle of what it showed
	deviation float64 // standard uncertainty of the meter, and of a display that wandered
	onRange   float64 // where the range ends that is set first; 0 is automatic
}

// newReading is a reading of q, which was possible.
func newReading(q faulttree.Quantity, r faulttree.Reading, m faulttree.Meter) reading {
	out := reading{scale: scales[q.Unit], over: r.Quality == faulttree.OverRange, sizeOnly: q.SizeOnly, many: q.Unit == faulttree.Ohms}
	if out.many {
		out.top = topOhms(m)
	}
	if q.Range > 0 {
		out.onRange = m.Resolution(q.Range).Float() * float64(max(m.FullScale, 100))
	}
	if !out.over {
		low, high := q.Judged(r.Low, r.High)
		out.value = (low + high).Float() / 2
		out.deviation = math.Hypot(m.Uncertainty(r, q).Float()/math.Sqrt(3), (high-low).Float()/2)
	}
	return out
}

// in is the density of the reading, or the probability of OL, where the points
// have the value x.
func (r *reading) in(x float64) float64 {
	if r.sizeOnly {
		x = math.Abs(x)
	}
	switch {
	case r.over:
		return r.overAt(x)
	case math.IsInf(x, 0):
		return 0
	case r.many && max(x, r.value) > manyOhms:
		size := math.Abs(r.value) + 1
		width := math.Hypot(r.shareOf(max(x, r.value)), r.deviation/size)
		z := math.Log(size/(math.Abs(x)+1)) / width
		return heavy(z*z) / (width * size)
	}
	off := max(r.share*math.Abs(x), r.least)
	variance := r.deviation*r.deviation + off*off
	z := r.value - x
	return heavy(z*z/variance) / math.Sqrt(variance)
}

// overAt is the probability that a display shows OL at a value. Who sets the
// range by hand, one reader in two, sees it where the range ends that is set
// first.
func (r *reading) overAt(x float64) float64 {
	if math.IsInf(x, 0) {
		return 1
	}
	off := max(r.share*math.Abs(x), r.least)
	if r.many && x > manyOhms {
		off = r.shareOf(x) * x
	}
	v := Normal{math.Abs(x), off}
	above := v.Above(r.top)
	if r.onRange > 0 && r.onRange < r.top {
		above = (above + v.Above(r.onRange)) / 2
	}
	return above
}

// missed is the density of the reading where a probe touched nothing: 0, or OL
// in ohms.
func (r *reading) missed() float64 {
	switch {
	case r.over && r.many:
		return 1
	case r.over || r.many:
		return 0
	}
	width := r.deviation + r.least
	return heavy(r.value*r.value/(width*width)) / width
}

// frozen is the density of the reading where the display still showed an earlier
// one.
func (r *reading) frozen(earlier *reading) float64 {
	if r.over || earlier.over {
		if r.over && earlier.over {
			return 1
		}
		return 0
	}
	width := max(r.least/4, r.deviation/4)
	z := (r.value - earlier.value) / width
	return heavy(z*z) / width
}

// broad is the density of the reading where nothing is known.
func (r *reading) broad() float64 {
	if r.over {
		return r.ol
	}
	return r.anything(r.value)
}

// beside reports whether a slip of one tip to a contact beside turns a reading of
// q into one of p.
func beside(q, p faulttree.Quantity) bool {
	if q.Unit != p.Unit || len(q.Conditions) != len(p.Conditions) {
		return false
	}
	for i, c := range q.Conditions {
		if p.Conditions[i] != c {
			return false
		}
	}
	return q.Red == p.Red && neighbours(q.Black, p.Black) || q.Black == p.Black && neighbours(q.Red, p.Red)
}

// neighbours reports whether two test points are contacts of one place.
func neighbours(a, b string) bool {
	at, one, ok := strings.Cut(a, ".")
	beside, other, also := strings.Cut(b, ".")
	return ok && also && at == beside && one != other
}
