package faulttree

import "strings"

// Unit is what a quantity is measured in. The zero value is invalid.
type Unit uint8

const (
	VoltsAC Unit = iota + 1 // alternating voltage, root mean square
	VoltsDC                 // direct voltage, with its sign
	Ohms                    // resistance
	AmpsAC                  // alternating current, root mean square
	AmpsDC                  // direct current, with its sign
)

var unitNames = map[Unit]string{VoltsAC: "V AC", VoltsDC: "V DC", Ohms: "Ω", AmpsAC: "A AC", AmpsDC: "A DC"}

// String is "V AC", "V DC", "Ω", "A AC" or "A DC"; these are also the names
// the quantity list uses.
func (u Unit) String() string { return unitNames[u] }

// Symbol is "V", "Ω" or "A".
func (u Unit) Symbol() string {
	return strings.TrimSuffix(strings.TrimSuffix(u.String(), " AC"), " DC")
}

// Function is the meter's function in words.
func (u Unit) Function() string {
	switch u {
	case VoltsAC:
		return "AC volts"
	case VoltsDC:
		return "DC volts"
	case Ohms:
		return "ohms"
	case AmpsAC:
		return "AC amps, clamp"
	case AmpsDC:
		return "DC amps"
	}
	return ""
}

// Signed reports whether a reading may be negative.
func (u Unit) Signed() bool { return u == VoltsDC || u == AmpsDC }

// ParseUnit reads a name as written by [Unit.String].
func ParseUnit(name string) (Unit, bool) {
	for u, n := range unitNames {
		if n == name {
			return u, true
		}
	}
	return 0, false
}

// UnitNames lists the names that ParseUnit accepts.
func UnitNames() []string { return []string{"V AC", "V DC", "Ω", "A AC", "A DC"} }

// With is the amount with its unit's symbol and, from a thousand ohms up, an
// SI prefix: "118.4 V", "5.2 kΩ".
func (a Amount) With(u Unit) string {
	if a == Lowest || a == Highest {
		return a.String()
	}
	if u == Ohms {
		switch {
		case a.Abs() >= 1_000_000*One && a%1000 == 0:
			return (a / 1_000_000).String() + " MΩ"
		case a.Abs() >= 1000*One && a%1000 == 0:
			return (a / 1000).String() + " kΩ"
		}
	}
	return a.String() + " " + u.Symbol()
}
