package visit

import (
	"bytes"
	"errors"
	"fmt"

	"faultwright/faulttree"
)

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
func Read(journal []byte) (v Visit, keep int, err error) {
	r := reader{}
	for rest := journal; len(rest) > 0; {
		line, after, ended := bytes.Cut(rest, []byte{'\n'})
		r.line++
		if !ended && torn(line) {
			r.visit.Torn = true
			break
		}
		if err := r.read(line); err != nil {
			return r.visit, 0, fmt.Errorf("line %d of the record: %w", r.line, err)
		}
		rest, keep = after, len(journal)-len(after)
	}
	switch {
	case r.stretch != nil && r.held:
		r.resolve("what it held is lost", true)
	case r.stretch != nil:
		r.resolve("no record is lost", false)
	}
	if !r.headed {
		if err := r.guessHeader(); err != nil {
			return r.visit, 0, err
		}
	}
	return r.visit, keep, nil
}

// reader reads a journal line by line.
type reader struct {
	visit     Visit
	line      int
	stretch   *Damage // bytes since the last record that could not be read
	held      bool    // they are more than a line end, and may have been a record
	headed    bool    // the first line was read
	headerErr error   // why it was not
}

// read takes what a line, without its line end, holds. A damaged line may hold
// several records, where line ends were damaged, and other bytes around them.
// The error is about a first line that is sound, and that this program does
// not understand.
func (r *reader) read(line []byte) error {
	text, err := unseal(line)
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

// take puts a record, as checked JSON, into the visit.
func (r *reader) take(text []byte) error {
	if r.line == 1 && !r.headed && len(r.visit.Records) == 0 {
		h, err := decodeHeader(text)
		if err == nil {
			r.visit.Header, r.headed = h, true
			return nil
		}
		if err != errNotHeader {
			return err
		}
		r.headerErr = err
	}
	rec, err := decodeRecord(text)
	seq := r.visit.lastSeq()
	switch {
	case err != nil:
		r.damaged(err)
		return nil
	case rec.Seq <= seq:
		r.damaged(fmt.Errorf("it is record %d after record %d", rec.Seq, seq))
		r.stretch.Lost = true
		return nil
	case len(r.visit.Records) == MostRecords:
		r.damaged(fmt.Errorf("a visit may have %d records, and this is one more", MostRecords))
		return nil
	}
	switch lost := missing(seq+1, rec.Seq-1); {
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
	r.visit.Records = append(r.visit.Records, rec)
	return nil
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
func (r *reader) damaged(why error) {
	if r.stretch == nil {
		r.stretch = &Damage{Line: r.line, Message: why.Error(), After: len(r.visit.Records)}
	}
	r.stretch.To = r.line
	r.held = r.held || why != errEnd && why != errEmpty
	if r.line == 1 && !r.headed && len(r.visit.Records) == 0 {
		r.headerErr = why
	}
}

// resolve ends a stretch of damage by saying what became of the records in it.
func (r *reader) resolve(what string, lost bool) {
	r.stretch.Message += "; " + what
	r.stretch.Lost = lost
	r.visit.Damage = append(r.visit.Damage, *r.stretch)
	r.stretch, r.held = nil, false
}

// guessHeader fills in the header that a damaged first line no longer gives.
func (r *reader) guessHeader() error {
	start, ok := firstStep(r.visit.Records)
	switch {
	case !ok && r.headerErr != nil:
		return fmt.Errorf("line 1 of the record: %w", r.headerErr)
	case !ok && r.visit.Torn:
		return errors.New("the record ends within its first line")
	case !ok:
		return errors.New("the record is empty")
	}
	r.visit.Header = Header{Start: start, Role: faulttree.Owner, Meter: faulttree.DefaultMeter(), Started: r.visit.Records[0].At}
	text := "it says who reads, with which meter, where and from which step on, and cannot be read. " +
		"The visit is taken for an owner's with an ordinary meter, from " + start.String() + " on"
	first := Damage{Line: 1, To: 1, Message: text, Lost: true}
	if d := r.visit.Damage; len(d) > 0 && d[0].Line == 1 {
		if d[0].Lost {
			first.Message, first.To = text+". "+d[0].Message, d[0].To
		}
		r.visit.Damage = d[1:]
	}
	r.visit.Damage = append([]Damage{first}, r.visit.Damage...)
	return nil
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
