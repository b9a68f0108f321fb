package visit

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"faultwright/faulttree"
)

// format is the version of the lines this package writes.
const format = 1

// The wire types give the JSON its names; they hold nothing of their own.

type wireHeader struct {
	Seq     int           `json:"seq"`
	Time    time.Time     `json:"time"`
	Kind    Kind          `json:"kind"`
	Format  int           `json:"format"`
	ID      string        `json:"id"`
	Start   faulttree.Ref `json:"start"`
	Role    string        `json:"role"`
	Meter   wireMeter     `json:"meter"`
	Details Details       `json:"details"`
	Content string        `json:"content,omitempty"`
}

// headerKind is the kind of the first line only.
const headerKind Kind = "visit"

type wireMeter struct {
	Name       string       `json:"name,omitempty"`
	FullScale  int          `json:"counts"`
	ACVolts    wireAccuracy `json:"ac_volts"`
	DCVolts    wireAccuracy `json:"dc_volts"`
	Resistance wireAccuracy `json:"resistance"`
	Current    wireAccuracy `json:"current"`
}

type wireAccuracy struct {
	Percent wireAmount `json:"percent"`
	Counts  int        `json:"counts"`
}

type wireRecord struct {
	Seq     int            `json:"seq"`
	Time    time.Time      `json:"time"`
	Kind    Kind           `json:"kind"`
	Replies []wireReply    `json:"replies,omitempty"`
	Item    *ItemID        `json:"item,omitempty"`
	Kept    []ItemID       `json:"kept,omitempty"`
	Supply  *wireSupplied  `json:"supply,omitempty"`
	Details *Details       `json:"details,omitempty"`
	Start   *faulttree.Ref `json:"start,omitempty"`
}

type wireReply struct {
	Step     faulttree.Ref `json:"step"`
	Readings []wireReading `json:"readings,omitempty"`
	Choice   string        `json:"choice,omitempty"`
	Done     bool          `json:"done,omitempty"`
}

type wireReading struct {
	Quantity   string     `json:"quantity,omitempty"`
	Unit       string     `json:"unit,omitempty"`
	Text       string     `json:"text"`
	Quality    string     `json:"quality"`
	Low        wireAmount `json:"low"`
	High       wireAmount `json:"high"`
	Resolution wireAmount `json:"resolution"`
	Reason     string     `json:"reason,omitempty"`
	Note       string     `json:"note,omitempty"`
}

type wireSupplied struct {
	Readings map[string][]wireReading `json:"readings,omitempty"`
	Choices  map[faulttree.Ref]string `json:"choices,omitempty"`
	ActsDone bool                     `json:"acts_done,omitempty"`
}

// wireAmount is an amount as an exact decimal in a JSON string.
type wireAmount faulttree.Amount

func (a wireAmount) MarshalText() ([]byte, error) { return []byte(faulttree.Amount(a).String()), nil }

func (a *wireAmount) UnmarshalText(text []byte) error {
	switch string(text) {
	case faulttree.Lowest.String():
		*a = wireAmount(faulttree.Lowest)
		return nil
	case faulttree.Highest.String():
		*a = wireAmount(faulttree.Highest)
		return nil
	}
	parsed, err := faulttree.ParseAmount(string(text))
	*a = wireAmount(parsed)
	return err
}

var qualityNames = [...]string{
	faulttree.Steady: "steady", faulttree.Wandering: "wandering",
	faulttree.OverRange: "over-range", faulttree.NotPossible: "not-possible",
}

func wireFromReading(t Taken) wireReading {
	r := t.Reading
	return wireReading{
		Quantity: t.Quantity, Unit: t.Unit.String(), Text: r.Text, Quality: qualityNames[r.Quality],
		Low: wireAmount(r.Low), High: wireAmount(r.High), Resolution: wireAmount(r.Resolution),
		Reason: r.Reason, Note: r.Note,
	}
}

func (w wireReading) taken() (Taken, error) {
	t := Taken{Quantity: w.Quantity, Reading: faulttree.Reading{
		Text: w.Text, Low: faulttree.Amount(w.Low), High: faulttree.Amount(w.High),
		Resolution: faulttree.Amount(w.Resolution), Reason: w.Reason, Note: w.Note,
	}}
	if w.Unit != "" {
		u, ok := faulttree.ParseUnit(w.Unit)
		if !ok {
			return t, fmt.Errorf("it has the unknown unit %q", w.Unit)
		}
		t.Unit = u
	}
	for q, name := range qualityNames {
		if name == w.Quality {
			t.Reading.Quality = faulttree.Quality(q)
			return t, nil
		}
	}
	return t, fmt.Errorf("it has a reading of the unknown quality %q", w.Quality)
}

func wireFromAccuracy(a faulttree.Accuracy) wireAccuracy {
	return wireAccuracy{wireAmount(a.Percent), a.Counts}
}

func (w wireAccuracy) accuracy() faulttree.Accuracy {
	return faulttree.Accuracy{Percent: faulttree.Amount(w.Percent), Counts: w.Counts}
}

// EncodeHeader is the first line of a journal.
func EncodeHeader(h Header) ([]byte, error) {
	if err := CheckID(h.ID); err != nil {
		return nil, err
	}
	m := h.Meter
	record, err := json.Marshal(wireHeader{
		Time: h.Started, Kind: headerKind, Format: format, ID: h.ID, Start: h.Start, Role: h.Role.String(),
		Meter: wireMeter{m.Name, m.FullScale, wireFromAccuracy(m.ACVolts), wireFromAccuracy(m.DCVolts),
			wireFromAccuracy(m.Resistance), wireFromAccuracy(m.Current)},
		Details: h.Details, Content: h.Content,
	})
	if err != nil {
		return nil, err
	}
	return seal(record)
}

func decodeHeader(line []byte) (Header, error) {
	var w wireHeader
	if err := open(line, &w); err != nil {
		return Header{}, err
	}
	if w.Kind != headerKind {
		return Header{}, errors.New("it is not the beginning of a visit")
	}
	if w.Format != format {
		return Header{}, fmt.Errorf("it is written in format %d, and this program reads format %d", w.Format, format)
	}
	role, ok := faulttree.ParseRole(w.Role)
	if !ok {
		return Header{}, fmt.Errorf("it has the unknown role %q", w.Role)
	}
	return Header{
		ID: w.ID, Start: w.Start, Role: role, Details: w.Details, Started: w.Time, Content: w.Content,
		Meter: faulttree.Meter{Name: w.Meter.Name, FullScale: w.Meter.FullScale,
			ACVolts: w.Meter.ACVolts.accuracy(), DCVolts: w.Meter.DCVolts.accuracy(),
			Resistance: w.Meter.Resistance.accuracy(), Current: w.Meter.Current.accuracy()},
	}, CheckID(w.ID)
}

// open checks a line and decodes its record strictly: a name this version
// does not know may change what the rest means.
func open(line []byte, into any) error {
	record, err := unseal(line)
	if err != nil {
		return err
	}
	d := json.NewDecoder(bytes.NewReader(record))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return fmt.Errorf("it can not be understood: %w", err)
	}
	return nil
}
