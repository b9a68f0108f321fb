package trial

import (
	"math"
	"math/rand/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// misuse is a wrong use of the meter, from the start or only after its first
// proof. All numbers about misuses are common practice, no source.
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
}

// shared is the part of the meter's error that a vehicle's readings share.
// Common practice, no source.
const shared = 0.7

// chance is an even number from -1 to 1 that belongs to a draw and a name.
func (in *instrument) chance(name string) float64 {
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
	noise := shared*in.chance(scales[q.Unit]) + (1-shared)*in.chance(q.ID)
	reach := faulttree.Amount(0)
	if q.Unit == faulttree.VoltsAC && math.Abs(value) < smallVolts {
		reach = smallVolts * faulttree.One
	}
	return in.face.Display(value, q.Unit, reach, noise)
}

// smallVolts is the lowest range that a reader turns to for an alternating
// voltage: below 20 V the trees ask for one step down from the 600 V range and
// no more, since on a range below that one mV are read as V. The smallest
// limit of the trees, 3 V, needs no finer one.
const smallVolts = 60

// scales are the names under which the error of each function's scale is drawn.
var scales = [...]string{"", "scale of volts", "scale of direct volts", "scale of ohms", "scale of amperes", "scale of direct amperes"}

func overRange() faulttree.Reading { return faulttree.Reading{Quality: faulttree.OverRange} }

// proof is what the meter shows of the live receptacle that proves it, on the
// function of q.
func (in *instrument) proof(q faulttree.Quantity) faulttree.Reading {
	q.ID = faulttree.MeterProof
	return in.show(q, (knownLow+knownHigh)/2+(knownHigh-knownLow)/2*in.chance(faulttree.MeterProof))
}

// noSignalVolts is the most that a display wanders, in volts, where the meter sees
// nothing of what it touches: direct volts on an alternating source, or no
// circuit. Common practice, no source.
const noSignalVolts = 0.02

// misread is what the meter shows of q under a misuse, where right is what it
// should show. Hold freezes the display of each function: what stood there
// was the proof, or a stale number from the start. A lead in the current jack
// shorts what it touches: its fuse opens, and nothing is shown from then on.
// A meter with a broken lead or a blown fuse shows nothing, a weak battery too
// little. A ghost is some tens of volts on a conductor that is dead.
func (in *instrument) misread(b misuse, q faulttree.Quantity, right faulttree.Reading) faulttree.Reading {
	ohms := q.Unit == faulttree.Ohms
	if right.Quality == faulttree.NotPossible {
		return right
	}
	value := right.High.Float()
	switch b.mistake {
	case rig.HoldLeftOn:
		switch {
		case ohms && b.stale:
			return overRange()
		case ohms:
			return in.show(q, 0.1)
		case q.Unit.Signed():
			return in.show(q, 12.6)
		case b.late || b.stale:
			return in.proof(q)
		}
		return in.show(q, 0)
	case rig.RangeTooLow:
		if ohms && value > 600 || !ohms && math.Abs(value) > 60 {
			return overRange()
		}
	case rig.WrongFunction:
		if !ohms && right.Quality == faulttree.Steady {
			return in.show(q, noSignalVolts*math.Abs(in.chance("wrong "+q.ID)))
		}
	case rig.AmpereJack, rig.BrokenLead:
		if ohms {
			return overRange()
		}
		return in.show(q, noSignalVolts*math.Abs(in.chance("loose "+q.ID)))
	case rig.GhostReading:
		if !ohms && !q.Has(faulttree.LowZ) && right.Quality == faulttree.Steady && math.Abs(value) < 2 && q.Red != faulttree.MeterProof {
			return in.show(q, 45+30*in.chance("ghost "+q.ID))
		}
	case rig.WeakBattery:
		if right.Quality == faulttree.Steady {
			return in.show(q, value*(0.75+0.15*in.chance("weak")))
		}
	}
	return right
}
