package suspect

import (
	"math"
	"strings"

	"faultwright/faulttree"
)

// reading is one reading, prepared for comparing it with what cases read.
type reading struct {
	scale
	over      bool    // the display showed OL
	sizeOnly  bool    // of what cases read the sign does not count either
	ohms      bool    // its large values are compared in the logarithm
	value     float64 // the middle of what it showed
	deviation float64 // standard uncertainty of the meter, and of a display that wandered
	top       float64 // where the highest range ends
	onRange   float64 // where the range ends that is set first; 0 is automatic
}

// newReading is a reading of q, which was possible.
func newReading(q faulttree.Quantity, r faulttree.Reading, m faulttree.Meter) reading {
	out := reading{scale: scales[q.Unit], over: r.Quality == faulttree.OverRange, sizeOnly: q.SizeOnly, ohms: q.Unit == faulttree.Ohms}
	out.top = m.Top(q.Unit).Float()
	if q.Range > 0 {
		out.onRange = m.Range(q.Unit, q.Range).Top.Float()
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
	case r.ohms && max(x, r.value) > manyOhms:
		size := math.Abs(r.value) + 1
		own := r.deviation / size
		z := math.Log(size / (x + 1))
		return studentT(z*z, r.squareShare(max(x, r.value))+own*own) / size
	}
	off := max(r.share*math.Abs(x), r.least)
	z := r.value - x
	return studentT(z*z, r.deviation*r.deviation+off*off)
}

// overAt is the probability that a display shows OL at a value. Who sets the
// range by hand, one reader in two, sees it where the range ends that is set
// first.
func (r *reading) overAt(x float64) float64 {
	if math.IsInf(x, 0) {
		return 1
	}
	off := max(r.share*math.Abs(x), r.least)
	if r.ohms && x > manyOhms {
		off = math.Sqrt(r.squareShare(x)) * x
	}
	v := Normal{math.Abs(x), off}
	above := v.Above(r.top)
	if r.onRange > 0 && r.onRange < r.top {
		above = (above + v.Above(r.onRange)) / 2
	}
	return above
}

// missedContact is the density of the reading where a probe touched nothing: 0, or OL
// in ohms.
func (r *reading) missedContact() float64 {
	if r.over || r.ohms {
		return indicator(r.over && r.ohms)
	}
	width := r.deviation + r.least
	return studentT(r.value*r.value, width*width)
}

// showsOther is the density of the reading where the display shows another one: it
// was frozen, or the probe touched the contact beside.
func (r *reading) showsOther(other *reading) float64 {
	if r.over || other.over {
		return indicator(r.over && other.over)
	}
	width := max(r.least/4, r.deviation/4)
	z := r.value - other.value
	return studentT(z*z, width*width)
}

// agrees reports whether another reading of the same quantity shows about the same.
func (r *reading) agrees(other *reading) bool {
	if r.over || other.over {
		return r.over && other.over
	}
	return math.Abs(r.value-other.value) <= r.tolerance()+r.deviation
}

// indicator is 1 for what holds, else 0.
func indicator(holds bool) float64 {
	if holds {
		return 1
	}
	return 0
}

// uninformed is the density of the reading where nothing is known about the vehicle.
func (r *reading) uninformed() float64 {
	if r.over {
		return r.ol
	}
	return r.uniform(r.value)
}

// sharesContact reports whether a slip of one tip to a contact beside turns a reading
// of q into one of p.
func sharesContact(q, p faulttree.Quantity) bool {
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
