package journal

import (
	"bytes"
	"errors"
	"fmt"
)

// Format is what one kind of journal holds: a header H in its first line, and
// records R after it.
type Format[H, R any] struct {
	Of   string // what it is the record of: "a visit"
	Most int    // records
	// Header reads the checked JSON of a first line. The error is [ErrNotHeader]
	// for any other record.
	Header func(text []byte) (H, error)
	// Record reads the checked JSON of a record, with its number; numbers count
	// from 1.
	Record func(text []byte) (record R, seq int, err error)
}

// Journal is what was read.
type Journal[H, R any] struct {
	Header    H
	Headed    bool  // the first line was read
	HeaderErr error // why it was not, where a line is there
	Records   []R
	Last      int      // the number of the last record, 0 where there is none
	Damage    []Damage // what could not be read; nil for a sound one
	Torn      bool     // a last, unfinished line was left out: it was never confirmed
	Keep      int      // how many bytes stay when a line is to be appended
}

// Read turns the text of a journal into its records. Every record whose checksum
// agrees is kept, whatever became of the bytes around it, and what could not be
// read is told in Damage. Keep is all bytes, but for a last line as an interrupted
// write leaves it, which is left out with Torn set. The error is about a first
// line that is sound, and that this program does not understand.
func (f Format[H, R]) Read(text []byte) (Journal[H, R], error) {
	r := reader[H, R]{format: f}
	for rest := text; len(rest) > 0; {
		line, after, ended := bytes.Cut(rest, []byte{'\n'})
		r.line++
		if !ended && torn(line) {
			r.out.Torn = true
			break
		}
		if err := r.read(line); err != nil {
			return r.out, fmt.Errorf("line %d of the record: %w", r.line, err)
		}
		rest, r.out.Keep = after, len(text)-len(after)
	}
	switch {
	case r.stretch != nil && r.held:
		r.resolve("what it held is lost", true)
	case r.stretch != nil:
		r.resolve("no record is lost", false)
	}
	return r.out, nil
}

// Unheaded is why a journal without a header, of which nothing else says what
// it is the record of, cannot be read.
func (j Journal[H, R]) Unheaded() error {
	switch {
	case j.HeaderErr != nil:
		return fmt.Errorf("line 1 of the record: %w", j.HeaderErr)
	case j.Torn:
		return errors.New("the record ends within its first line")
	}
	return errors.New("the record is empty")
}

// reader reads a journal line by line.
type reader[H, R any] struct {
	format  Format[H, R]
	out     Journal[H, R]
	line    int
	stretch *Damage // bytes since the last record that could not be read
	held    bool    // they are more than a line end, and may have been a record
}

// read takes what a line, without its line end, holds. A damaged line may hold
// several records, where line ends were damaged, and other bytes around them.
// The error is about a first line that is sound, and that this program does
// not understand.
func (r *reader[H, R]) read(line []byte) error {
	text, err := Unseal(line)
	if err == nil {
		return r.take(text)
	}
	if len(line) == 0 {
		r.damaged(errEmpty)
	}
	for found := false; len(line) > 0; {
		text, size := firstSealed(line)
		switch {
		case text != nil:
			if err := r.take(text); err != nil {
				return err
			}
			found = true
		case found && len(line) == 1:
			r.damaged(errEnd)
		default:
			r.damaged(err)
		}
		line = line[size:]
	}
	return nil
}

// take puts a record, as checked JSON, into the journal.
func (r *reader[H, R]) take(text []byte) error {
	if r.first() {
		h, err := r.format.Header(text)
		if err == nil {
			r.out.Header, r.out.Headed = h, true
			return nil
		}
		if !errors.Is(err, ErrNotHeader) {
			return err
		}
		r.out.HeaderErr = fmt.Errorf("it is not the beginning of %s", r.format.Of)
	}
	rec, seq, err := r.format.Record(text)
	switch {
	case err != nil:
		r.damaged(err)
		return nil
	case seq <= r.out.Last:
		r.damaged(fmt.Errorf("it is record %d after record %d", seq, r.out.Last))
		r.stretch.Lost = true
		return nil
	case len(r.out.Records) == r.format.Most:
		r.damaged(fmt.Errorf("%s may have %d records, and this is one more", r.format.Of, r.format.Most))
		return nil
	}
	switch lost := missing(r.out.Last+1, seq-1); {
	case lost != "" && r.stretch == nil:
		r.damaged(errors.New("before it something is missing"))
		r.resolve(lost, true)
	case lost != "":
		r.resolve(lost, true)
	case r.stretch != nil && r.stretch.Lost:
		r.resolve("it is left out", true)
	case r.stretch != nil:
		r.resolve("no record is lost", false)
	}
	r.out.Records, r.out.Last = append(r.out.Records, rec), seq
	return nil
}

// first reports whether what comes now may be the header.
func (r *reader[H, R]) first() bool {
	return r.line == 1 && !r.out.Headed && len(r.out.Records) == 0
}

// missing words the loss of the records from first to last, "" if there are
// none.
func missing(first, last int) string {
	switch {
	case first > last:
		return ""
	case first == last:
		return fmt.Sprintf("record %d is lost", first)
	}
	return fmt.Sprintf("records %d to %d are lost", first, last)
}

// damaged notes that the present line, or part of it, cannot be read. Lines
// in a row are one stretch, told by what is wrong with its first.
func (r *reader[H, R]) damaged(why error) {
	if why == errForm {
		why = fmt.Errorf("it is not a record of %s", r.format.Of)
	}
	if r.stretch == nil {
		r.stretch = &Damage{Line: r.line, Message: why.Error(), After: len(r.out.Records)}
	}
	r.stretch.To = r.line
	r.held = r.held || why != errEnd && why != errEmpty
	if r.first() && r.out.HeaderErr == nil {
		r.out.HeaderErr = why
	}
}

// resolve ends a stretch of damage by saying what became of the records in it.
func (r *reader[H, R]) resolve(what string, lost bool) {
	r.stretch.Message += "; " + what
	r.stretch.Lost = lost
	r.out.Damage = append(r.out.Damage, *r.stretch)
	r.stretch, r.held = nil, false
}
