package content

import (
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"slices"
)

// Fingerprint is the same for the same files of a handbook, and another for
// others: a visit keeps it to tell that the handbook has changed since.
func (l *Library) Fingerprint() string {
	names := make([]string, 0, len(l.Files))
	for name := range l.Files {
		names = append(names, name)
	}
	slices.Sort(names)
	sum := sha256.New()
	for _, name := range names {
		fmt.Fprintf(sum, "%d %s %d ", len(name), name, len(l.Files[name].Text))
		sum.Write(l.Files[name].Text)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}
