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
		own := r.deviation / size
		z := math.Log(size / (x + 1))
		return heavy(z*z, r.squareShare(max(x, r.value))+own*own) / size
	}
	off := max(r.share*math.Abs(x), r.least)
	z := r.value - x
	return heavy(z*z, r.deviation*r.deviation+off*off)
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
		off = math.Sqrt(r.squareShare(x)) * x
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
	if r.over || r.many {
		return is(r.over && r.many)
	}
	width := r.deviation + r.least
	return heavy(r.value*r.value, width*width)
}

// again is the density of the reading where the display shows another one, on
// which it was frozen or which belongs to the contact beside.
func (r *reading) again(other *reading) float64 {
	if r.over || other.over {
		return is(r.over && other.over)
	}
	width := max(r.least/4, r.deviation/4)
	z := r.value - other.value
	return heavy(z*z, width*width)
}

// is is the probability of what is known to hold, or not to.
func is(holds bool) float64 {
	if holds {
		return 1
	}
	return 0
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
