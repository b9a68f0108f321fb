package faulttree

import "slices"

// Try is what of the reader's own gear a quantity tries, on something known.
// The zero value is nothing.
type Try uint8

const (
	TriesVoltsAC  Try = iota + 1 // alternating volts, on a source known to be live, not on the vehicle
	TriesVoltsDC                 // direct volts, on a charged battery, not the one in question
	TriesLeads                   // ohms, the tips held together and touching nothing else
	TriesOpenTips                // ohms, the tips apart and touching nothing
	TriesSpike                   // the spike in the soil, on a live contact of the supply
)

var (
	tryNames = [...]string{"", "ac-volts", "dc-volts", "leads", "open-tips", "spike"}
	tryUnits = [...]Unit{0, VoltsAC, VoltsDC, Ohms, Ohms, VoltsAC}
)

// String is the name documents use, such as ac-volts or spike; "" for nothing.
func (t Try) String() string { return tryNames[t] }

// Unit is what the gear is tried in.
func (t Try) Unit() Unit { return tryUnits[t] }

// ParseTry reads a name as written by [Try.String]; any other is nothing.
func ParseTry(name string) Try { return Try(max(0, slices.Index(tryNames[:], name))) }

// TryNames lists what ParseTry knows.
func TryNames() []string { return tryNames[1:] }

// OfMeter reports whether q is about the meter alone, and not about a vehicle
// or its supply.
func (q Quantity) OfMeter() bool { return q.Tries != 0 && q.Tries != TriesSpike }

// Trying is the quantity that tries t, or one without an id where none does.
func (qs Quantities) Trying(t Try) Quantity {
	for _, q := range qs {
		if q.Tries == t {
			return q
		}
	}
	return Quantity{Tries: t, Unit: t.Unit()}
}
