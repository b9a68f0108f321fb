package trial

import (
	"math"
	"math/rand/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// misuse is a wrong use of the meter, from the start or only after its first
// proof.
type misuse struct {
	mistake rig.Mistake
	late    bool // sets in after the first proof
	stale   bool // of a hold from the start: what is frozen is a live reading
}

// instrument turns solved values into readings of the default meter, on the
// range it finds by itself, as the trees ask ("step the range down"). Of its
// error the greater part is one that all readings of a vehicle share, as a
// meter's scale is off by the same share everywhere.
type instrument struct {
	face   *meter.Face
	seed   uint64
	number uint64
	exact  bool // chance is left out: no error, and the middle of all it is tried on
}

// shared is the part of the meter's error that a vehicle's readings share.
// Common practice, no source.
const shared = 0.7

// chance is an even number from -1 to 1 that belongs to a draw and a name.
func (in *instrument) chance(name string) float64 {
	if in.exact {
		return 0
	}
	var g rand.PCG
	g.Seed(in.seed^nameSeed(name), in.number)
	return 2*float64(g.Uint64()>>11)/(1<<53) - 1
}

// nameSeed is the FNV-1a hash of a name.
func nameSeed(name string) uint64 {
	h := uint64(14695981039346656037)
	for i := range len(name) {
		h = (h ^ uint64(name[i])) * 1099511628211
	}
	return h
}

// show is the reading of a solved value in the base unit of q.
func (in *instrument) show(q faulttree.Quantity, value float64) faulttree.Reading {
	reach := faulttree.Amount(0)
	if q.Unit == faulttree.VoltsAC && math.Abs(value) < faulttree.SmallVolts {
		reach = faulttree.SmallVolts * faulttree.One
	}
	return in.face.Display(value, q.Unit, reach, in.noise(q))
}

// scales are the names under which the error of each function's scale is drawn.
var scales = [...]string{"", "scale of volts", "scale of direct volts", "scale of ohms", "scale of amperes", "scale of direct amperes"}

// noise is how much of the meter's accuracy a reading of the draw uses up.
func (in *instrument) noise(q faulttree.Quantity) float64 {
	return shared*in.chance(scales[q.Unit]) + (1-shared)*in.chance(q.ID)
}
