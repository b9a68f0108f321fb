package faulttree

import (
	"cmp"
	"fmt"

	"faultwright/faulttree/source"
)

// The text forms in which readings and what belongs to them are kept. They
// stand in records for years: a name given here is never given to anything
// else.

// MarshalText writes the exact decimal of [Amount.String].
func (a Amount) MarshalText() ([]byte, error) { return []byte(a.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (a *Amount) UnmarshalText(text []byte) (err error) {
	switch string(text) {
	case Lowest.String():
		*a = Lowest
	case Highest.String():
		*a = Highest
	default:
		*a, err = ParseAmount(string(text))
	}
	return err
}

// MarshalText writes the name of [Unit.String].
func (u Unit) MarshalText() ([]byte, error) { return []byte(u.String()), nil }

// UnmarshalText reads a name that [ParseUnit] knows.
func (u *Unit) UnmarshalText(text []byte) error {
	known, ok := ParseUnit(string(text))
	if !ok {
		return fmt.Errorf("%q is not a unit; expected one of %q", text, UnitNames())
	}
	*u = known
	return nil
}

// MarshalText writes "owner" or "qualified".
func (r Role) MarshalText() ([]byte, error) { return []byte(r.String()), nil }

// UnmarshalText reads "owner" or "qualified".
func (r *Role) UnmarshalText(text []byte) error {
	known, ok := ParseRole(string(text))
	if !ok {
		return fmt.Errorf("%q is not a role; %s", text, cmp.Or(source.DidYouMean(string(text), []string{"owner", "qualified"}), "expected owner or qualified"))
	}
	*r = known
	return nil
}

var qualityNames = [...]string{Steady: "steady", Wandering: "wandering", OverRange: "over-range", NotPossible: "not-possible"}

// MarshalText writes "steady", "wandering", "over-range" or "not-possible".
func (q Quality) MarshalText() ([]byte, error) { return []byte(qualityNames[q]), nil }

// UnmarshalText reads what MarshalText writes.
func (q *Quality) UnmarshalText(text []byte) error {
	for known, name := range qualityNames {
		if name == string(text) {
			*q = Quality(known)
			return nil
		}
	}
	return fmt.Errorf("%q is not how a display behaves; expected one of %q", text, qualityNames)
}

// MarshalText writes what String says.
func (f FaultAt) MarshalText() ([]byte, error) { return []byte(f.String()), nil }

// UnmarshalText reads what MarshalText writes.
func (f *FaultAt) UnmarshalText(text []byte) error {
	*f = ParseFaultAt(string(text))
	return nil
}
