package journal

import "fmt"

// Damage is a stretch of lines that could not be read, or a place where records
// are missing.
type Damage struct {
	Line, To int // the first and the last line, from 1
	Message  string
	After    int  // how many records of the journal stand before it
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

// Doubts tells of the damage of a journal and of a line that was never finished.
func Doubts(damage []Damage, torn bool) []Doubt {
	var out []Doubt
	for i, d := range damage {
		if i == mostDoubts {
			more := Doubt{What: "More of the record cannot be read", Why: fmt.Sprintf("%d more places are damaged.", len(damage)-i)}
			for _, d := range damage[i:] {
				more.Lost = more.Lost || d.Lost
			}
			out = append(out, more)
			break
		}
		out = append(out, Doubt{"Part of the record cannot be read", d.String() + ".", d.Lost})
	}
	if torn {
		out = append(out, Doubt{What: "The last line of the record is unfinished",
			Why: "It was being written when the program or the machine stopped, was not confirmed, and is left out."})
	}
	return out
}

// NextSeq is the number of the record to be added after the last of so many.
// Where the end of the journal may have lost a record one number is left out, so
// that whoever reads it later still sees the loss.
func NextSeq(last, records int, damage []Damage) int {
	for _, d := range damage {
		if d.Lost && d.After == records {
			return last + 2
		}
	}
	return last + 1
}
