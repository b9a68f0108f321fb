package faulttree

import "slices"

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
