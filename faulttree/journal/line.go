package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
	"time"
)

// MaxLine is the longest line of a journal, its line end included, in bytes.
const MaxLine = 256 << 10

// Log keeps lines. Append returns nil only when the line is where a sudden
// stop of the program, or of the machine, cannot lose it.
type Log interface {
	Append(line []byte) error
}

// A line is lineHead, eight hexadecimal digits, lineInner, the record's JSON,
// lineTail. JSON escapes quotes inside strings, so lineHead stands nowhere
// inside a record.
const (
	lineHead  = `{"crc":"`
	lineInner = `","record":`
	lineTail  = `}`
	sumDigits = 8
)

// ErrLong is that a record is longer than a line may be.
var ErrLong = errors.New("this is too long to be kept")

// Seal puts the checksum of a record's JSON beside it and ends the line.
func Seal(record []byte) ([]byte, error) {
	line := fmt.Appendf(nil, "%s%08x%s%s%s\n", lineHead, crc32.ChecksumIEEE(record), lineInner, record, lineTail)
	if len(line) > MaxLine {
		return nil, fmt.Errorf("%w: %d bytes, where a record may have %d", ErrLong, len(line), MaxLine)
	}
	return line, nil
}

var (
	errForm  = errors.New("it is not a record")
	errSum   = errors.New("its checksum does not agree with its text")
	errEnd   = errors.New("its line end is damaged")
	errEmpty = errors.New("it is empty")
)

// Unseal is the record's JSON inside a line without its line end.
func Unseal(line []byte) ([]byte, error) {
	rest, ok := bytes.CutPrefix(line, []byte(lineHead))
	if !ok || len(rest) < sumDigits {
		return nil, errForm
	}
	sum := rest[:sumDigits]
	rest, ok = bytes.CutPrefix(rest[sumDigits:], []byte(lineInner))
	if !ok {
		return nil, errForm
	}
	rest, ok = bytes.CutSuffix(rest, []byte(lineTail))
	if !ok {
		return nil, errForm
	}
	if fmt.Sprintf("%08x", crc32.ChecksumIEEE(rest)) != string(sum) {
		return nil, errSum
	}
	return rest, nil
}

// firstSealed is the record's JSON that stands at the very beginning of a
// damaged line, whatever follows it, and how many bytes its line takes. Where
// none that checks stands there it is nil, and size is how far away the next
// one may begin.
func firstSealed(line []byte) (record []byte, size int) {
	next := len(line)
	if i := bytes.Index(line[1:], []byte(lineHead)); i >= 0 {
		next = i + 1
	}
	if !begins(line) {
		return nil, next
	}
	var whole json.RawMessage
	d := json.NewDecoder(bytes.NewReader(line[:min(next, MaxLine)]))
	if d.Decode(&whole) != nil {
		return nil, next
	}
	end := int(d.InputOffset())
	if record, err := Unseal(line[:end]); err == nil {
		return record, end
	}
	return nil, next
}

// begins reports whether line begins as every line of a journal does, as far
// as it goes.
func begins(line []byte) bool {
	const pattern = lineHead + "00000000" + lineInner
	for i := range min(len(line), len(pattern)) {
		switch {
		case i < len(lineHead), i >= len(lineHead)+sumDigits:
			if line[i] != pattern[i] {
				return false
			}
		case bytes.IndexByte([]byte("0123456789abcdef"), line[i]) < 0:
			return false
		}
	}
	return true
}

// torn reports whether a last line without a line end is what an interrupted
// write leaves: the beginning of one line, and nothing else.
func torn(line []byte) bool {
	if len(line) >= MaxLine || bytes.IndexByte(line, 0) >= 0 || !begins(line) || bytes.Contains(line[1:], []byte(lineHead)) {
		return false
	}
	var unfinished json.RawMessage
	return json.NewDecoder(bytes.NewReader(line)).Decode(&unfinished) == io.ErrUnexpectedEOF
}

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

// idLetters has no letter or digit that is taken for another when read aloud.
const idLetters = "abcdefghjkmnpqrstuvwxyz23456789"

// NewID names a journal by its day and five letters drawn from random, which
// the caller provides: "2026-05-03-k7fqm". The day is that of started in its
// own time zone.
func NewID(started time.Time, random uint64) string {
	tail := make([]byte, 5)
	for i := range tail {
		tail[i] = idLetters[random%uint64(len(idLetters))]
		random /= uint64(len(idLetters))
	}
	return started.Format("2006-01-02") + "-" + string(tail)
}

// ValidID reports whether id can name a journal: 1 to 64 small letters, digits
// and inner hyphens. Anything else could also name a place outside the folder.
func ValidID(id string) bool {
	if len(id) == 0 || len(id) > 64 || id[0] == '-' || id[len(id)-1] == '-' {
		return false
	}
	for _, c := range id {
		if (c < 'a' || c > 'z') && (c < '0' || c > '9') && c != '-' {
			return false
		}
	}
	return true
}
