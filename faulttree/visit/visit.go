package visit

import (
	"slices"
	"time"

	"faultwright/faulttree/journal"
)

// Visit is one diagnosis on record.
type Visit struct {
	Header  Header
	Records []Record
	Damage  []Damage // what could not be read in the journal; nil for a sound one
	Torn    bool     // a last, unfinished line was left out: it was never confirmed
}

// Damage is a place in the journal that could not be read.
type Damage = journal.Damage

// Doubt is something about a record that whoever reads it must know.
type Doubt = journal.Doubt

// Log keeps lines.
type Log = journal.Log

// MaxLine is the longest line of a journal, in bytes.
const MaxLine = journal.MaxLine

// Doubts tells of the damage of a record and of a line that was never finished.
func (v Visit) Doubts() []Doubt { return journal.Doubts(v.Damage, v.Torn) }

// Details are the newest site, vehicle and note.
func (v Visit) Details() Details {
	d := v.Header.Details
	for _, r := range v.Records {
		if r.Kind == Detailed || r.Kind == Given {
			d = r.Details
		}
	}
	return d
}

// Last is when the newest record was made. Giving the visit to another vehicle is no part
// of it.
func (v Visit) Last() time.Time {
	for _, r := range slices.Backward(v.Records) {
		if r.Kind != Given {
			return r.At
		}
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

// nextSeq is the number of the record to be added.
func (v Visit) nextSeq() int { return journal.NextSeq(v.lastSeq(), len(v.Records), v.Damage) }
