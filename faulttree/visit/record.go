package visit

import (
	"fmt"
	"strconv"
	"strings"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/journal"
	"faultwright/faulttree/source"
)

// Kind is what a record tells.
type Kind string

const (
	Answered Kind = "answer"  // one step was answered
	Backed   Kind = "back"    // the last answer was taken back
	Changed  Kind = "change"  // an earlier answer was replaced
	Supplied Kind = "supply"  // readings were supplied together, in any order
	Detailed Kind = "details" // site, vehicle or note were changed
	Retested Kind = "test"    // the test after repair began: a new walk from Start
	Given    Kind = "vehicle" // it is of another of the reader's own vehicles from now on, or of none
)

// Record is one thing that happened, in the form in which it is kept. Seq
// counts from 1; where a number is left out, a record was lost.
type Record struct {
	Seq     int                `json:"seq"`
	At      time.Time          `json:"time"`
	Kind    Kind               `json:"kind"`
	Replies []Reply            `json:"replies,omitempty"` // Answered and Changed: one; Supplied: every step the readings answered
	Item    ItemID             `json:"item,omitzero"`     // Backed: the answer taken back; Changed: the answer replaced
	Kept    []ItemID           `json:"kept,omitempty"`    // Changed: the later answers that still fitted, in their new order
	Supply  faulttree.Supplied `json:"supply,omitzero"`   // Supplied: everything given, asked for or not
	Details Details            `json:"details,omitzero"`  // Detailed and Given
	Vehicle string             `json:"vehicle,omitempty"` // Given: by its id in the logbook; "" for none
	Start   faulttree.Ref      `json:"start,omitzero"`    // Retested
}

// hide takes what is not shown out of every text that a person may have typed.
func (r *Record) hide() {
	shown := func(x *faulttree.Reading) {
		x.Text, x.Reason, x.Note = source.Shown(x.Text), source.Shown(x.Reason), source.Shown(x.Note)
	}
	r.Details = r.Details.shown()
	for _, reply := range r.Replies {
		for i := range reply.Readings {
			shown(&reply.Readings[i].Reading)
		}
	}
	for _, readings := range r.Supply.Readings {
		for i := range readings {
			shown(&readings[i])
		}
	}
}

// Reply is the answer to one step, with enough beside it to be read without
// the handbook it was given to.
type Reply struct {
	Step     faulttree.Ref `json:"step"`
	Readings []Taken       `json:"readings,omitempty"`
	Choice   string        `json:"choice,omitempty"`
	Done     bool          `json:"done,omitempty"`
}

// Taken is one reading with the quantity it is a reading of.
type Taken struct {
	Quantity string         `json:"quantity,omitempty"`
	Unit     faulttree.Unit `json:"unit,omitempty"`
	faulttree.Reading
}

// NewReply puts the quantities of step s beside the readings of a.
func NewReply(s *faulttree.Step, a faulttree.Answer) Reply {
	r := Reply{Step: s.Ref(), Choice: a.Choice, Done: a.Done}
	for i, reading := range a.Readings {
		t := Taken{Reading: reading}
		if i < len(s.Measure) {
			q := s.Measure[i].Quantity
			t.Quantity, t.Unit = q.ID, q.Unit
		}
		r.Readings = append(r.Readings, t)
	}
	return r
}

// Answer is the reply as the engine takes it.
func (r Reply) Answer() faulttree.Answer {
	a := faulttree.Answer{Choice: r.Choice, Done: r.Done}
	for _, t := range r.Readings {
		a.Readings = append(a.Readings, t.Reading)
	}
	return a
}

// ItemID names one answer of a visit: the record it stands in, and which of
// that record's replies it is, from 0. The zero value names nothing.
type ItemID struct{ Seq, N int }

// String is "7" for the first reply of record 7 and "7.2" for its third.
func (id ItemID) String() string {
	if id.N == 0 {
		return strconv.Itoa(id.Seq)
	}
	return fmt.Sprintf("%d.%d", id.Seq, id.N)
}

// MarshalText writes what String says.
func (id ItemID) MarshalText() ([]byte, error) { return []byte(id.String()), nil }

// UnmarshalText reads what String writes.
func (id *ItemID) UnmarshalText(text []byte) error {
	seq, n, inner := strings.Cut(string(text), ".")
	var err error
	if id.Seq, err = strconv.Atoi(seq); err != nil || id.Seq < 1 {
		return fmt.Errorf("%q is not the number of a record", text)
	}
	id.N = 0
	if inner {
		if id.N, err = strconv.Atoi(n); err != nil || id.N < 1 {
			return fmt.Errorf("%q is not the number of a reply", text)
		}
	}
	return nil
}

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
	// Sample marks a visit with made-up readings, of no real vehicle. It is never kept.
	Sample bool `json:"-"`
	// Vehicle is the reader's own vehicle that the visit was begun for, by its id in the
	// logbook; "" for one without a name, and in visits from before there was a logbook. It
	// may have been given to another since: see [Visit.Vehicle].
	Vehicle string `json:"vehicle,omitempty"`
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
