package content

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"maps"
	"slices"
	"strings"
)

// Order is what the best order of readings at a scenario costs and holds, as it was
// worked out once: every mark of economy is beside it, and it takes seconds.
type Order struct {
	Basis string  // what it was worked out from: [Library.Basis]
	Cost  int     // by the exposures of the handbook
	Held  float64 // share of what is to be done
}

// Order is the stored order of a scenario or of a variant of it; false where there
// is none, or where it was worked out from something else.
func (l *Library) Order(s *Scenario) (Order, bool) {
	written := l.Scenarios[s.ID]
	if written == nil || written.Pos != s.Pos {
		return Order{}, false // handed out as a file
	}
	o, ok := l.Orders[s.ID]
	return o, ok && o.Basis == l.Basis(written)
}

// basis is the lists and folders that a best order follows from, beside the
// scenario itself.
var basis = []string{"evidence.yaml", "facts.yaml", "faults/", "fragments/", "methods/", "quantities.yaml", "rigs/", "rubric.md", "trees/"}

// Basis is another for a scenario of which the vehicle, the faults, or what may be
// read is another. Of faults and scenarios the prose does not count.
func (l *Library) Basis(s *Scenario) string {
	sum := sha256.New()
	for _, name := range slices.Sorted(maps.Keys(l.Files)) {
		of := slices.ContainsFunc(basis, func(of string) bool { return strings.HasPrefix(name, of) })
		if !of && name != s.Pos.File {
			continue
		}
		text := l.Files[name].Text
		if !strings.HasPrefix(name, "trees/") && !strings.HasPrefix(name, "fragments/") {
			text = frontOf(text)
		}
		fmt.Fprintf(sum, "%d %s %d ", len(name), name, len(text))
		sum.Write(text)
	}
	return hex.EncodeToString(sum.Sum(nil)[:8])
}

// frontOf is the front matter of a document; all of a text without any.
func frontOf(text []byte) []byte {
	front, _, ok := bytes.Cut(bytes.TrimPrefix(text, []byte("---\n")), []byte("\n---\n"))
	if !ok {
		return text
	}
	return front
}
