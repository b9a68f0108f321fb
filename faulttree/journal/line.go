package journal

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"hash/crc32"
	"io"
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
