package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// Encode is a record as a line; at is when it was made.
func Encode(at time.Time, record any) ([]byte, error) {
	if y := at.Year(); y < 1 || y > 9999 {
		return nil, fmt.Errorf("the clock says the year %d, and a record can be kept for the years 1 to 9999; set the clock", y)
	}
	text, err := json.Marshal(record)
	if err != nil {
		return nil, fmt.Errorf("this cannot be kept: %w", err)
	}
	return Seal(text)
}

// Decode is strict: a name this version does not know may change what the rest
// means.
func Decode(text []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(text))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("it cannot be understood: %w", err)
	}
	return nil
}

// Head is how the first line of a journal begins, to be embedded in it.
type Head struct {
	Seq    int    `json:"seq"` // always 0
	Kind   string `json:"kind"`
	Format int    `json:"format"` // the version of the lines
}

// Check reports whether the checked JSON of a line is a first line of this kind
// and format. The error is [ErrNotHeader] for any other record.
func (h Head) Check(text []byte) error {
	var is struct {
		Kind   string
		Format int
	}
	if json.Unmarshal(text, &is) != nil || is.Kind != h.Kind {
		return ErrNotHeader
	}
	if is.Format != h.Format {
		return fmt.Errorf("it is written in format %d, and this program reads format %d", is.Format, h.Format)
	}
	return nil
}

// ErrNotHeader is that a line is not the first of a journal.
var ErrNotHeader = errors.New("it is not the beginning of a journal")
