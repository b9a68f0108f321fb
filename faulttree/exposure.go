package faulttree

// Exposure is how a reading is taken: what the reader is near while the
// probes are on.
type Exposure uint8

const (
	Unexposed  Exposure = iota // not stated
	DeadTest                   // nothing is live
	AtSupply                   // a live contact at the supply
	AtBody                     // a live contact on the body of the vehicle
	InsideBody                 // a live contact inside the vehicle
)

var exposureNames = [...]string{"", "dead", "supply", "body", "inside"}

// String is the name documents use: dead, supply, body or inside; "" where
// none is stated.
func (e Exposure) String() string { return exposureNames[e] }

// MarshalText writes what String says.
func (e Exposure) MarshalText() ([]byte, error) { return []byte(e.String()), nil }

// Live reports whether a reader touches a live contact.
func (e Exposure) Live() bool { return e > DeadTest }

// ParseExposure reads a name as written by [Exposure.String].
func ParseExposure(name string) (Exposure, bool) {
	for i, n := range exposureNames {
		if i > 0 && n == name {
			return Exposure(i), true
		}
	}
	return Unexposed, false
}

// ExposureNames lists what ParseExposure accepts, the least first.
func ExposureNames() []string { return exposureNames[1:] }

// Weights say what a reading of each exposure costs beside the others. They
// are ratios, without a unit. Unexposed stands for the proof of the meter and
// what else has no exposure.
type Weights [InsideBody + 1]int

// DefaultWeights are the weights of a handbook that states none.
func DefaultWeights() Weights {
	return Weights{Unexposed: 1, DeadTest: 1, AtSupply: 3, AtBody: 6, InsideBody: 8}
}

// Of is what a reading of q costs, at least 1. A proof of the meter costs what
// a quantity of no exposure does.
func (w Weights) Of(q Quantity) int {
	e := q.Exposure
	if q.OfMeter() {
		e = Unexposed
	}
	return max(1, w[e])
}
