package print

import (
	"fmt"
	"strings"
)

// Paper is a size of paper.
type Paper struct {
	Name          string  // as CSS names it
	Title         string  // for a reader
	Width, Height float64 // in millimetres, upright
}

// A4 is A4 of ISO 216, Letter the 8.5 by 11 inches of ANSI.
var (
	A4     = Paper{"A4", "A4", 210, 297}
	Letter = Paper{"letter", "Letter", 215.9, 279.4}
)

// ParsePaper reads "a4" or "letter", in any case.
func ParsePaper(name string) (Paper, error) {
	for _, p := range []Paper{A4, Letter} {
		if strings.EqualFold(name, p.Name) {
			return p, nil
		}
	}
	return Paper{}, fmt.Errorf("there is no paper %q here; expected a4 or letter", name)
}
