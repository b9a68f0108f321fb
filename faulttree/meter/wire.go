package meter

import (
	"fmt"
	"slices"
)

// The text forms stand in attempts that are kept: a name given here is never
// given to anything else.

var (
	functionNames = []string{"as-asked", "ac-volts", "dc-volts", "ohms", "continuity", "ac-clamp", "dc-clamp", "low-impedance"}
	jackNames     = []string{"volts", "amperes"}
)

// Valid reports whether a meter can be set so.
func (s Setting) Valid() bool {
	return int(s.Function) < len(functionNames) && int(s.Jack) < len(jackNames) && s.Range >= 0
}

// MarshalText writes a name such as "ac-volts".
func (f Function) MarshalText() ([]byte, error) { return marshal(functionNames, int(f), "function") }

// UnmarshalText reads what MarshalText writes.
func (f *Function) UnmarshalText(text []byte) error {
	i, err := parse(functionNames, text, "function")
	*f = Function(i)
	return err
}

// MarshalText writes "volts" or "amperes".
func (j Jack) MarshalText() ([]byte, error) { return marshal(jackNames, int(j), "jack") }

// UnmarshalText reads what MarshalText writes.
func (j *Jack) UnmarshalText(text []byte) error {
	i, err := parse(jackNames, text, "jack")
	*j = Jack(i)
	return err
}

func marshal(names []string, i int, what string) ([]byte, error) {
	if i >= len(names) {
		return nil, fmt.Errorf("a meter has no %s %d", what, i)
	}
	return []byte(names[i]), nil
}

func parse(names []string, text []byte, what string) (int, error) {
	i := slices.Index(names, string(text))
	if i < 0 {
		return 0, fmt.Errorf("%q is no %s of a meter; expected one of %q", text, what, names)
	}
	return i, nil
}
