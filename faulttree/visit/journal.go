package visit

import (
	"bytes"
	"fmt"
	"time"
)

// MostRecords is how many records one visit may have.
const MostRecords = 10_000

// Visit is one diagnosis on record.
type Visit struct {
	Header  Header
	Records []Record
	Damage  []Damage // what could not be trusted in the journal; nil for a sound one
	Torn    bool     // a last, unfinished line was left out: it was never confirmed
}

// Damage is a line of the journal that could not be used, or a place where
// records are missing.
type Damage struct {
	Line    int // from 1
	Message string
}

// String is one sentence for the reader.
func (d Damage) String() string { return fmt.Sprintf("line %d of the record: %s", d.Line, d.Message) }

// Details are the newest site, vehicle and note.
func (v Visit) Details() Details {
	d := v.Header.Details
	for _, r := range v.Records {
		if r.Kind == Detailed {
			d = r.Details
		}
	}
	return d
}

// Last is when the newest record was made.
func (v Visit) Last() time.Time {
	if n := len(v.Records); n > 0 {
		return v.Records[n-1].At
	}
	return v.Header.Started
}

// Read turns the text of a journal into a visit. A last line without its line
// end that is not whole is dropped, with Torn set; any other line that can not
// be trusted is left out and told in Damage, and the lines after it are kept.
// Keep is how many bytes of the text to keep before a line is appended. The
// error is not nil if the first line does not say what visit this is; whatever
// else could be read is then still in the visit.
func Read(journal []byte) (v Visit, keep int, err error) {
	seq, wanted := 0, 1
	for number, rest := 1, journal; len(rest) > 0; number++ {
		line, after, ended := bytes.Cut(rest, []byte{'\n'})
		at := len(journal) - len(rest)
		rest = after
		problem := ""
		if number == 1 {
			h, bad := decodeHeader(line)
			if bad != nil {
				err = fmt.Errorf("line 1 of the record: %w", bad)
				if !ended {
					v.Torn = true
					return v, 0, err
				}
			}
			v.Header = h
		} else {
			r, bad := decodeRecord(line)
			switch {
			case bad != nil && !ended:
				v.Torn = true
				return v, at, err
			case bad != nil:
				problem = "this line was left out: " + bad.Error()
				wanted++ // the damaged line stands for one record
			case r.Seq <= seq:
				problem = fmt.Sprintf("this line was left out: it is record %d after record %d", r.Seq, seq)
			case len(v.Records) == MostRecords:
				v.Damage = append(v.Damage, Damage{number, fmt.Sprintf("this line and all after it were left out: a visit may have %d records", MostRecords)})
				return v, len(journal), err
			default:
				if r.Seq != wanted {
					v.Damage = append(v.Damage, Damage{number, fmt.Sprintf("before this line records are missing: it is record %d where %d was expected", r.Seq, wanted)})
				}
				v.Records = append(v.Records, r)
				seq, wanted = r.Seq, r.Seq+1
			}
		}
		if problem != "" {
			v.Damage = append(v.Damage, Damage{number, problem})
		}
	}
	if len(journal) == 0 {
		err = fmt.Errorf("the record is empty")
	}
	return v, len(journal), err
}
