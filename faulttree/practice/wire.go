package practice

import (
	"fmt"
	"slices"
)

// The text forms stand in attempts for years: a name given here is never given
// to anything else.

var (
	kindNames = []string{"", "read", "throw", "load", "in", "out", "prove", "reject", "swap", "unplug", "change-fuse", "take-back", "reset"}
	levels    = []string{"free", "guided", "worked"}
	surenames = []string{"guess", "likely", "sure"}
)

// String is the name of the kind in an attempt that is kept, "" for none.
func (k Kind) String() string { return nameOf(kindNames, int(k)) }

// MarshalText writes what String says.
func (k Kind) MarshalText() ([]byte, error) { return marshal(kindNames, int(k), "kind of act") }

// UnmarshalText reads what MarshalText writes.
func (k *Kind) UnmarshalText(text []byte) error {
	i, err := parse(kindNames, text, "kind of act")
	*k = Kind(i)
	return err
}

// String is "free", "guided" or "worked".
func (l Level) String() string { return nameOf(levels, int(l)) }

// MarshalText writes what String says.
func (l Level) MarshalText() ([]byte, error) { return marshal(levels, int(l), "level") }

// UnmarshalText reads what MarshalText writes.
func (l *Level) UnmarshalText(text []byte) error {
	i, err := parse(levels, text, "level")
	*l = Level(i)
	return err
}

// String is "guess", "likely" or "sure".
func (s Sureness) String() string { return nameOf(surenames, int(s)) }

// MarshalText writes what String says.
func (s Sureness) MarshalText() ([]byte, error) { return marshal(surenames, int(s), "sureness") }

// UnmarshalText reads what MarshalText writes.
func (s *Sureness) UnmarshalText(text []byte) error {
	i, err := parse(surenames, text, "sureness")
	*s = Sureness(i)
	return err
}

func nameOf(names []string, i int) string {
	if i < 0 || i >= len(names) {
		return ""
	}
	return names[i]
}

func marshal(names []string, i int, what string) ([]byte, error) {
	if nameOf(names, i) == "" {
		return nil, fmt.Errorf("there is no %s %d", what, i)
	}
	return []byte(names[i]), nil
}

func parse(names []string, text []byte, what string) (int, error) {
	i := slices.Index(names, string(text))
	if i < 0 || len(text) == 0 {
		return 0, fmt.Errorf("%q is no %s; expected one of %q", text, what, slices.DeleteFunc(slices.Clone(names), func(n string) bool { return n == "" }))
	}
	return i, nil
}
