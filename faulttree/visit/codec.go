package visit

import (
	"errors"
	"fmt"
	"time"

	"faultwright/faulttree/journal"
)

// head begins the first line of a journal.
var head = journal.Head{Kind: "visit", Format: 1}

// headerLine is the first line of a journal.
type headerLine struct {
	journal.Head
	Header
}

// EncodeHeader is h as the first line of a journal.
func EncodeHeader(h Header) ([]byte, error) {
	if err := CheckID(h.ID); err != nil {
		return nil, err
	}
	h.Details = h.Details.shown()
	return encode(h.Started, headerLine{head, h})
}

// EncodeRecord is r as a line of a journal.
func EncodeRecord(r Record) ([]byte, error) { return encode(r.At, r) }

func encode(at time.Time, record any) ([]byte, error) {
	line, err := journal.Encode(at, record)
	if errors.Is(err, journal.ErrLong) {
		err = fmt.Errorf("%w; shorten the note or supply fewer readings at once", err)
	}
	return line, err
}

// decodeHeader reads the checked JSON of a first line. The error is
// [journal.ErrNotHeader] for any other record.
func decodeHeader(text []byte) (Header, error) {
	if err := head.Check(text); err != nil {
		return Header{}, err
	}
	var h headerLine
	if err := journal.Decode(text, &h); err != nil {
		return Header{}, err
	}
	h.Details = h.Details.shown()
	if h.Practice != "" && !journal.ValidID(h.Practice) {
		return Header{}, fmt.Errorf("%q cannot be the name of an attempt", h.Practice)
	}
	return h.Header, CheckID(h.ID)
}

// decodeRecord reads the checked JSON of a record and looks whether it has what
// its kind needs.
func decodeRecord(text []byte) (Record, error) {
	var r Record
	if err := journal.Decode(text, &r); err != nil {
		return Record{}, err
	}
	r.hide()
	return r, r.complete()
}

// complete reports what a record of its kind lacks.
func (r Record) complete() error {
	lacks := func(what string) error { return fmt.Errorf("it is a record of kind %q without %s", r.Kind, what) }
	switch r.Kind {
	case Answered:
		if len(r.Replies) != 1 {
			return lacks("its one answer")
		}
	case Backed:
		if r.Item == (ItemID{}) {
			return lacks("the answer it takes back")
		}
	case Changed:
		if len(r.Replies) != 1 || r.Item == (ItemID{}) {
			return lacks("the old and the new answer")
		}
	case Retested:
		if r.Start.Step == "" {
			return lacks("the step it starts at")
		}
	case Supplied, Detailed:
	default:
		return fmt.Errorf("it is a record of the unknown kind %q", r.Kind)
	}
	return nil
}
