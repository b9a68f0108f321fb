package visit

import (
	"fmt"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

// Header is what is known when a visit begins.
type Header struct {
	ID      string          `json:"id"`    // see [NewID]; also the name of its file
	Start   faulttree.Ref   `json:"start"` // the step the walk begins at
	Role    faulttree.Role  `json:"role"`
	Meter   faulttree.Meter `json:"meter"`
	Details Details         `json:"details"`
	Started time.Time       `json:"time"`
	Content string          `json:"content,omitempty"` // fingerprint of the handbook in use, "" if unknown
}

// Details say where and on what the visit takes place, in the reader's words.
type Details struct {
	Site    string `json:"site,omitempty"`
	Vehicle string `json:"vehicle,omitempty"`
	Note    string `json:"note,omitempty"`
}

// shown is d without characters that are not shown; see [source.Hidden].
func (d Details) shown() Details {
	return Details{Site: source.Shown(d.Site), Vehicle: source.Shown(d.Vehicle), Note: source.Shown(d.Note)}
}

// idLetters has no letter or digit that is taken for another when read aloud.
const idLetters = "abcdefghjkmnpqrstuvwxyz23456789"

// NewID names a visit by its day and five letters drawn from random, which
// the caller provides: "2026-05-03-k7fqm". The day is that of started in its
// own time zone.
func NewID(started time.Time, random uint64) string {
	tail := make([]byte, 5)
	for i := range tail {
		tail[i] = idLetters[random%uint64(len(idLetters))]
		random /= uint64(len(idLetters))
	}
	return started.Format("2006-01-02") + "-" + string(tail)
}

// CheckID is nil if id can name a visit: 1 to 64 small letters, digits and
// inner hyphens. Anything else could also name a place outside the folder.
func CheckID(id string) error {
	bad := len(id) == 0 || len(id) > 64 || id[0] == '-' || id[max(len(id), 1)-1] == '-'
	for _, c := range id {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			bad = true
		}
	}
	if bad {
		return fmt.Errorf("%q cannot be the name of a visit; expected something like 2026-05-03-k7fqm", id)
	}
	return nil
}
