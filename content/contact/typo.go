package contact

import "slices"

// OneTypo reports whether one letter added, left out, exchanged for another,
// or one pair of neighbours in the wrong order makes b of a.
func OneTypo(a, b []rune) bool {
	if len(a) > len(b) {
		a, b = b, a
	}
	if len(b)-len(a) > 1 {
		return false
	}
	i := 0
	for i < len(a) && a[i] == b[i] {
		i++
	}
	switch {
	case len(a) < len(b):
		return slices.Equal(a[i:], b[i+1:])
	case i == len(a):
		return false
	case slices.Equal(a[i+1:], b[i+1:]):
		return true
	}
	return i+1 < len(a) && a[i] == b[i+1] && a[i+1] == b[i] && slices.Equal(a[i+2:], b[i+2:])
}
