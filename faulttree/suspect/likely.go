package suspect

// Likely is how likely a suspect is, in words. Words come first: the figures
// beside them rest on weights that are common practice.
type Likely uint8

const (
	Unlikely     Likely = iota
	NotTested           // a share of 0.05 or more, which the evidence raised no more than that of a sound vehicle
	AlsoPossible        // a share of 0.05 or more
	MostLikely          // half and more, or clearly before all others
)

// String is "most likely", "also possible", "not tested by these readings" or
// "unlikely".
func (l Likely) String() string {
	return [...]string{"unlikely", "not tested by these readings", "also possible", "most likely"}[l]
}

// What the words stand for. Clearly before all others is three times the next,
// and more than a quarter.
const (
	half     = 0.5
	possible = 0.05
	clearly  = 3
	raised   = 3 // times as likely, beside a sound vehicle, as before anything was read
	quarter  = 0.25
)

// likely is the word for a share; next is the share of what comes after it.
func likely(share float64, first bool, next float64) Likely {
	switch {
	case share >= half, first && share >= quarter && share >= clearly*next:
		return MostLikely
	case share >= possible:
		return AlsoPossible
	}
	return Unlikely
}

// MarshalText writes what String says.
func (l Likely) MarshalText() ([]byte, error) { return []byte(l.String()), nil }
