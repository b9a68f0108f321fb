package suspect

// Likely is how likely a suspect is, in words. Words come first: the figures
// beside them rest on weights that are common practice.
type Likely uint8

const (
	Unlikely     Likely = iota
	AlsoPossible        // a share of 0.05 or more
	MostLikely          // half and more, or clearly before all others
)

// String is "most likely", "also possible" or "unlikely".
func (l Likely) String() string { return [...]string{"unlikely", "also possible", "most likely"}[l] }
