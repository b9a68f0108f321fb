package visit

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// format is the version of the lines this package writes.
const format = 1

// headerKind is the kind of the first line only.
const headerKind Kind = "visit"

// headerLine is the first line of a journal.
type headerLine struct {
	Seq    int  `json:"seq"` // always 0
	Kind   Kind `json:"kind"`
	Format int  `json:"format"`
	Header
}

// EncodeHeader is h as the first line of a journal.
func EncodeHeader(h Header) ([]byte, error) {
	if err := CheckID(h.ID); err != nil {
		return nil, err
	}
	h.Details = h.Details.shown()
	return encode(h.Started, headerLine{Kind: headerKind, Format: format, Header: h})
}

// EncodeRecord is r as a line of a journal.
func EncodeRecord(r Record) ([]byte, error) { return encode(r.At, r) }

func encode(at time.Time, record any) ([]byte, error) {
	if y := at.Year(); y < 1 || y > 9999 {
		return nil, fmt.Errorf("the clock says the year %d, and a record can be kept for the years 1 to 9999; set the clock", y)
	}
	text, err := json.Marshal(record)
	if err != nil {
		return nil, fmt.Errorf("this cannot be kept: %w", err)
	}
	return seal(text)
}

var errNotHeader = errors.New("it is not the beginning of a visit")

// decodeHeader reads the checked JSON of a first line. The error is
// errNotHeader for any other record.
func decodeHeader(text []byte) (Header, error) {
	var is struct {
		Kind   Kind
		Format int
	}
	if json.Unmarshal(text, &is) != nil || is.Kind != headerKind {
		return Header{}, errNotHeader
	}
	if is.Format != format {
		return Header{}, fmt.Errorf("it is written in format %d, and this program reads format %d", is.Format, format)
	}
	var h headerLine
	if err := decode(text, &h); err != nil {
		return Header{}, err
	}
	h.Details = h.Details.shown()
	return h.Header, CheckID(h.ID)
}

// decodeRecord reads the checked JSON of a record and looks whether it has what
// its kind needs.
func decodeRecord(text []byte) (Record, error) {
	var r Record
	if err := decode(text, &r); err != nil {
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

// decode is strict: a name this version does not know may change what the rest
// means.
func decode(text []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("it cannot be understood: %w", err)
	}
	return nil
}
