package suspect

// Likely is how likely a suspect is, in words. Words come first: the figures
// beside them rest on weights that are common practice.
type Likely uint8

const (
	Unlikely     Likely = iota // a share below 0.05
	NotTested                  // a share of 0.05 or more, which the evidence raised no more than that of a sound vehicle
	AlsoPossible               // a share of 0.05 or more
	MostLikely                 // half and more, or clearly before all others
)

// String is "most likely", "also possible", "not tested by these readings" or
// "unlikely".
func (l Likely) String() string {
	return [...]string{"unlikely", "not tested by these readings", "also possible", "most likely"}[l]
}

// What the words stand for: shares, but for clearly, how many times the next share
// the first one has to be, and leastBayesFactor.
const (
	half             = 0.5
	possible         = 0.05
	clearly          = 3
	leastBayesFactor = 3 // of a suspect beside a sound vehicle, below which no evidence was a test for it
	quarter          = 0.25
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
