package drawn

import (
	"math/rand/v2"

	"faultwright/faulttree/rig"
)

// Way is one way in which a fault is made: one of its variants.
type Way struct {
	Fault   *rig.Fault
	Variant int
}

// variant is what the way does to a rig.
func (w Way) variant() rig.Variant { return w.Fault.Variants[w.Variant] }

// Stratum is the vehicles of a rig in which the same is wrong in the same way.
type Stratum struct {
	Rig  *rig.Rig
	Ways []Way // nil for sound ones
}

// Chance is all that chance decides of one vehicle and of who reads it.
type Chance struct {
	Setup rig.Setup
	Loads map[string]bool // legs whose loads happen to be on
	// Late and Stale are for a meter that fails. Late: it fails only after its first
	// proof. Stale: its display froze at a live reading.
	Late, Stale bool
}

// Draw draws a vehicle of the stratum. What it draws, and in which order, must not
// change: the same seed has to give the same vehicle again.
func (s Stratum) Draw(rng *rand.Rand) Chance {
	c := Chance{Loads: map[string]bool{}}
	c.Setup.Values = s.Rig.Draw(rng)
	for _, leg := range s.Rig.Legs() {
		c.Loads[leg] = rng.IntN(2) == 1
	}
	c.Late, c.Stale = rng.IntN(2) == 1, rng.IntN(2) == 1
	c.Setup.Varieties = s.Rig.DrawVarieties(rng)
	for _, w := range s.Ways {
		a := rig.Applied{Fault: w.Fault, Variant: w.Variant}
		if w.Fault.Severity != nil {
			a.Severity = w.Fault.Severity.At(rng.Float64())
		}
		c.Setup.Faults = append(c.Setup.Faults, a)
	}
	return c
}
