package content

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
)

// Fingerprint is the same for the same files of a handbook, and another for
// others: a visit keeps it to tell that the handbook has changed since.
func (l *Library) Fingerprint() string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(l.Files)) {
		fmt.Fprintf(sum, "%d %s %d ", len(name), name, len(l.Files[name].Text))
		sum.Write(l.Files[name].Text)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}
