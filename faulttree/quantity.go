package faulttree

import (
	"fmt"
	"slices"
	"sort"
	"strings"

	"faultwright/faulttree/source"
)

// Place is a part of the installation that a tree judges or a fault sits in.
type Place string

const (
	Supply   Place = "supply"
	Cord     Place = "cord"
	Vehicle  Place = "vehicle"
	DC       Place = "dc"
	MeterOwn Place = "meter"
)

// Places lists every Place.
func Places() []Place { return []Place{Supply, Cord, Vehicle, DC, MeterOwn} }

// Condition is a state of the installation under which a quantity is read.
type Condition string

const (
	Loaded    Condition = "loaded"    // the loads in question switched on
	LowZ      Condition = "lowz"      // with a low-impedance meter
	MainOff   Condition = "main-off"  // the vehicle's main breaker off
	Rest      Condition = "rest"      // hours after the last charge or load
	Unplugged Condition = "unplugged" // the plug pulled, generator and inverter off
)

// Conditions lists every Condition, in the order ids write them.
func Conditions() []Condition { return []Condition{Loaded, LowZ, MainOff, Rest, Unplugged} }

// Point is a place a probe can touch, such as pedestal.l1, body or earth.
type Point struct {
	ID    string
	Title string // "the L1 contact of the pedestal receptacle"
	Place Place  // "" for earth
	Needs Needs
	Pos   source.Pos
}

// Quantity is what is measured between two test points, under conditions.
// The zero value is invalid.
type Quantity struct {
	ID         string
	Title      string // "Pedestal: L1 to neutral"
	Unit       Unit
	Red, Black string // ids of the points the red and the black probe touch; Black is "" for a clamp or a proof of the meter
	Conditions []Condition
	Proves     Proof  // what of the reader's own gear it proves, on something known
	OffVehicle bool   // no point of it lies on the vehicle, which nobody need touch
	Range      Amount // the meter range to set first reaches at least this
	Most       Amount // a larger reading is refused as absurd
	Effort     int    // of taking it, from 1; 0 where no method says it
	Exposure   Exposure
	Fed        bool  // what is read depends on the supply of the vehicle, live or not near whoever reads it
	Take       Take  // how often it is read, and what counts
	Needs      Needs // those of its points among them
	SizeOnly   bool  // a minus sign tells only which way round the probes or the clamp were, so readings are judged without it
	Pos        source.Pos
}

// Domain is every value that a reading of q is judged as, over-range apart.
func (q Quantity) Domain() Span {
	if q.Unit.Signed() && !q.SizeOnly {
		return Everything()
	}
	return Span{0, Highest}
}

// Judged is what the values from low to high count as for q: themselves, or
// their sizes.
func (q Quantity) Judged(low, high Amount) (Amount, Amount) {
	switch {
	case !q.SizeOnly || low >= 0:
		return low, high
	case high <= 0:
		return -high, -low
	}
	return 0, max(-low, high)
}

// Has reports whether q is read under condition c.
func (q Quantity) Has(c Condition) bool { return slices.Contains(q.Conditions, c) }

// group is the part of a point's id before the dot.
func group(point string) string {
	g, _, _ := strings.Cut(point, ".")
	return g
}

// AllowedAfterStop reports whether q may still be asked once a walk has
// passed a STOP: it is read at the supply alone, or dead with the plug
// pulled. No voltage of the body qualifies, not even unplugged, and nothing
// live on the vehicle.
func (q Quantity) AllowedAfterStop() bool {
	return q.OfMeter() || q.Unit == Ohms && q.Has(Unplugged) || q.Unit != Ohms && q.OffVehicle
}

// QuantityName is a quantity id taken apart.
type QuantityName struct {
	Prefix     string // "ohm", "amp" or ""
	Red, Black string
	Conditions []Condition
}

// ParseQuantityName splits an id such as "ohm:plug.g-body@unplugged". Known
// tells whether a point exists: the second point is looked up in the place of
// the first, then globally. Conditions stand in order, without repeats.
func ParseQuantityName(id string, known func(point string) bool) (QuantityName, error) {
	var n QuantityName
	rest := id
	if prefix, tail, ok := strings.Cut(rest, ":"); ok {
		if prefix != "ohm" && prefix != "amp" {
			return n, fmt.Errorf("%q begins with %q; expected ohm: or amp: or no prefix", id, prefix+":")
		}
		n.Prefix, rest = prefix, tail
	}
	parts := strings.Split(rest, "@")
	order := Conditions()
	last := -1
	for _, c := range parts[1:] {
		i := slices.Index(order, Condition(c))
		switch {
		case i < 0:
			return n, fmt.Errorf("%q has the unknown condition @%s; expected one of @loaded @lowz @main-off @rest @unplugged", id, c)
		case i <= last:
			return n, fmt.Errorf("%q has its conditions out of order; expected @loaded @lowz @main-off @rest @unplugged in this order", id)
		}
		last = i
		n.Conditions = append(n.Conditions, order[i])
	}
	if slices.Contains(n.Conditions, Loaded) && slices.Contains(n.Conditions, Rest) {
		return n, fmt.Errorf("%q asks for loads switched on and for a battery at rest; nothing is read in both states", id)
	}
	points := parts[0]
	if known(points) { // a clamp around one conductor, or a meter proof
		n.Red = points
		return n, nil
	}
	for i := 0; i < len(points); i++ {
		if points[i] != '-' || !known(points[:i]) {
			continue
		}
		red, black := points[:i], points[i+1:]
		if same := group(red) + "." + black; known(same) {
			n.Red, n.Black = red, same
			return n, nil
		}
		if known(black) {
			n.Red, n.Black = red, black
			return n, nil
		}
		return n, &UnknownPointError{ID: id, Verb: "ends at", Point: black}
	}
	return n, &UnknownPointError{ID: id, Verb: "begins with", Point: firstPoint(points, known)}
}

// UnknownPointError says that a quantity's id names a test point that there is
// not.
type UnknownPointError struct{ ID, Verb, Point string }

func (e *UnknownPointError) Error() string {
	return fmt.Sprintf("%q %s the unknown test point %q", e.ID, e.Verb, e.Point)
}

// firstPoint is what stands for the first point where it is unknown: all before a
// known second one, or else before the first hyphen behind the place.
func firstPoint(points string, known func(point string) bool) string {
	for i := range points {
		if points[i] == '-' && known(points[i+1:]) {
			return points[:i]
		}
	}
	from := max(0, strings.IndexByte(points, '.'))
	if i := strings.IndexByte(points[from:], '-'); i >= 0 {
		return points[:from+i]
	}
	return points
}

// Quantities is the complete list of what can be measured, by id.
type Quantities map[string]Quantity

// IDs lists the ids in order.
func (qs Quantities) IDs() []string {
	ids := make([]string, 0, len(qs))
	for id := range qs {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	return ids
}

// Touch is what a hand may touch of a vehicle, and from where on that can hurt,
// as the handbook has it. The zero value says nothing.
type Touch struct {
	Point string // the test point that is touched, such as body
	Soil  string // in a rig, the part between it and remote earth; as wet as it gets it may differ
	From  Amount // volts to remote earth at and above which nobody may touch it
}

// Known reports whether the handbook says anything.
func (t Touch) Known() bool { return t.Point != "" && t.From > 0 }

// Proof is what of the reader's own gear a quantity proves, on something known.
// The zero value is nothing.
type Proof uint8

const (
	ProvesVoltsAC  Proof = iota + 1 // alternating volts, on a source known to be live, not on the vehicle
	ProvesVoltsDC                   // direct volts, on a charged battery, not the one in question
	ProvesLeads                     // ohms, the tips held together and touching nothing else
	ProvesOpenTips                  // ohms, the tips apart and touching nothing
	ProvesSpike                     // the spike in the soil, on a live contact of the supply
)

var (
	proofNames = [...]string{"", "ac-volts", "dc-volts", "leads", "open-tips", "spike"}
	proofUnits = [...]Unit{0, VoltsAC, VoltsDC, Ohms, Ohms, VoltsAC}
)

// String is the name documents use, such as ac-volts or spike; "" for nothing.
func (p Proof) String() string { return proofNames[p] }

// Unit is what the gear is proved in.
func (p Proof) Unit() Unit { return proofUnits[p] }

// ParseProof reads a name as written by [Proof.String]; any other is nothing.
func ParseProof(name string) Proof { return Proof(max(0, slices.Index(proofNames[:], name))) }

// ProofNames lists what ParseProof knows.
func ProofNames() []string { return proofNames[1:] }

// OfMeter reports whether q is about the meter alone, and not about a vehicle
// or its supply.
func (q Quantity) OfMeter() bool { return q.Proves != 0 && q.Proves != ProvesSpike }

// Proving is the quantity that proves p, or one without an id where none does.
func (qs Quantities) Proving(p Proof) Quantity {
	for _, q := range qs {
		if q.Proves == p {
			return q
		}
	}
	return Quantity{Proves: p, Unit: p.Unit()}
}
