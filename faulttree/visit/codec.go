package visit

import (
	"errors"
	"fmt"
	"time"

	"faultwright/faulttree"
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
	if h.Vehicle != "" && !journal.ValidID(h.Vehicle) {
		return Header{}, fmt.Errorf("%q cannot be the name of a vehicle", h.Vehicle)
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
	case Given:
		if r.Vehicle != "" && !journal.ValidID(r.Vehicle) {
			return fmt.Errorf("%q cannot be the name of a vehicle", r.Vehicle)
		}
	case Supplied, Detailed:
	default:
		return fmt.Errorf("it is a record of the unknown kind %q", r.Kind)
	}
	return nil
}

// MostRecords is how many records one visit may have.
const MostRecords = 10_000

// Read turns the text of a journal into a visit. Every record whose checksum
// agrees is kept, whatever became of the bytes around it, and what could not
// be read is told in Damage. Keep is how many bytes stay when a line is to be
// appended: all of them, but for a last line as an interrupted write leaves
// it, which is left out with Torn set.
//
// A damaged first line is told as Damage too. The visit is then taken for an
// owner's with an ordinary meter, from the first step that a record names on,
// and its Header has no ID. The error is not nil if not even that is there.
func Read(text []byte) (v Visit, keep int, err error) {
	format := journal.Format[Header, Record]{Of: "a visit", Most: MostRecords, Header: decodeHeader, Record: numbered}
	j, err := format.Read(text)
	v = Visit{Header: j.Header, Records: j.Records, Damage: j.Damage, Torn: j.Torn}
	if err != nil {
		return v, 0, err
	}
	if !j.Headed {
		start, ok := firstStep(v.Records)
		if !ok {
			return v, 0, j.Unheaded()
		}
		v.guessHeader(start)
	}
	return v, j.Keep, nil
}

// numbered is a record with its number.
func numbered(text []byte) (Record, int, error) {
	r, err := decodeRecord(text)
	return r, r.Seq, err
}

// guessHeader fills in the header that a damaged first line no longer gives.
func (v *Visit) guessHeader(start faulttree.Ref) {
	v.Header = Header{Start: start, Role: faulttree.Owner, Meter: faulttree.DefaultMeter(), Started: v.Records[0].At}
	text := "it says who reads, with which meter, where and from which step on, and cannot be read. " +
		"The visit is taken for an owner's with an ordinary meter, from " + start.String() + " on"
	first := Damage{Line: 1, To: 1, Message: text, Lost: true}
	if d := v.Damage; len(d) > 0 && d[0].Line == 1 {
		if d[0].Lost {
			first.Message, first.To = text+". "+d[0].Message, d[0].To
		}
		v.Damage = d[1:]
	}
	v.Damage = append([]Damage{first}, v.Damage...)
}

// firstStep is the first step that a record names.
func firstStep(records []Record) (faulttree.Ref, bool) {
	for _, r := range records {
		if r.Kind == Retested {
			return r.Start, true
		}
		for _, reply := range r.Replies {
			if _, fact := reply.Step.Fact(); !fact {
				step, _, _ := reply.Step.Chart()
				return step, true
			}
		}
	}
	return faulttree.Ref{}, false
}
