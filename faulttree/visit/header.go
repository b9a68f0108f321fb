package visit

import (
	"fmt"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
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
	// Practice is the attempt at practice, by its id, that the walk is taken beside: it
	// is about no real vehicle. "" for all others.
	Practice string `json:"practice,omitempty"`
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

// NewID names a visit; see [journal.NewID].
func NewID(started time.Time, random uint64) string { return journal.NewID(started, random) }

// CheckID is nil if id can name a visit; see [journal.ValidID].
func CheckID(id string) error {
	if !journal.ValidID(id) {
		return fmt.Errorf("%q cannot be the name of a visit; expected something like 2026-05-03-k7fqm", id)
	}
	return nil
}
