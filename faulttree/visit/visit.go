package visit

import (
	"fmt"
	"time"
)

// Visit is one diagnosis on record.
type Visit struct {
	Header  Header
	Records []Record
	Damage  []Damage // what could not be read in the journal; nil for a sound one
	Torn    bool     // a last, unfinished line was left out: it was never confirmed
}

// Damage is a stretch of lines that could not be read, or a place where records
// are missing.
type Damage struct {
	Line, To int // the first and the last line, from 1
	Message  string
	After    int  // how many records of the visit stand before it
	Lost     bool // a record is lost here, or may be
}

// String is one sentence for the reader.
func (d Damage) String() string {
	if d.To > d.Line {
		return fmt.Sprintf("lines %d to %d of the record: %s", d.Line, d.To, d.Message)
	}
	return fmt.Sprintf("line %d of the record: %s", d.Line, d.Message)
}

// Doubt is something about a record that whoever reads it must know.
type Doubt struct {
	What string // "Part of the record cannot be read"
	Why  string // a sentence
	Lost bool   // something that was on record is lost, or may be
}

// String is both in one.
func (d Doubt) String() string { return d.What + ": " + d.Why }

// mostDoubts is how many damaged places are told each by itself.
const mostDoubts = 8

// Doubts tells of the damage of a record and of a line that was never finished.
func (v Visit) Doubts() []Doubt {
	var out []Doubt
	for i, d := range v.Damage {
		if i == mostDoubts {
			more := Doubt{What: "More of the record cannot be read", Why: fmt.Sprintf("%d more places are damaged.", len(v.Damage)-i)}
			for _, d := range v.Damage[i:] {
				more.Lost = more.Lost || d.Lost
			}
			out = append(out, more)
			break
		}
		out = append(out, Doubt{"Part of the record cannot be read", d.String() + ".", d.Lost})
	}
	if v.Torn {
		out = append(out, Doubt{What: "The last line of the record is unfinished",
			Why: "It was being written when the program or the machine stopped, was not confirmed, and is left out."})
	}
	return out
}

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

// lastSeq is the number of the newest record, 0 where there is none.
func (v Visit) lastSeq() int {
	if n := len(v.Records); n > 0 {
		return v.Records[n-1].Seq
	}
	return 0
}

// nextSeq is the number of the record to be added. Where the end of the
// journal may have lost a record one number is left out, so that whoever reads
// it later still sees the loss.
func (v Visit) nextSeq() int {
	for _, d := range v.Damage {
		if d.Lost && d.After == len(v.Records) {
			return v.lastSeq() + 2
		}
	}
	return v.lastSeq() + 1
}
