package visit

import (
	"bytes"
	"errors"
	"fmt"
	"hash/crc32"
	"strconv"
)

// MaxLine is the longest line of a journal, its line end included, in bytes.
const MaxLine = 256 << 10

// Log keeps lines. Append returns nil only when the line is where a sudden
// stop of the program, or of the machine, can not lose it.
type Log interface {
	Append(line []byte) error
}

const (
	lineHead  = `{"crc":"`
	lineInner = `","record":`
	lineTail  = `}`
)

// seal puts the checksum of a record's JSON beside it and ends the line.
func seal(record []byte) ([]byte, error) {
	line := fmt.Appendf(nil, "%s%08x%s%s%s\n", lineHead, crc32.ChecksumIEEE(record), lineInner, record, lineTail)
	if len(line) > MaxLine {
		return nil, fmt.Errorf("this is too long to be kept: %d bytes, where a record may have %d; shorten the note or supply fewer readings at once", len(line), MaxLine)
	}
	return line, nil
}

var (
	errForm = errors.New("it is not a record of a visit")
	errSum  = errors.New("its checksum does not agree with its text")
)

// unseal is the record's JSON inside a line without its line end.
func unseal(line []byte) ([]byte, error) {
	rest, ok := bytes.CutPrefix(line, []byte(lineHead))
	if !ok || len(rest) < 8 {
		return nil, errForm
	}
	sum, err := strconv.ParseUint(string(rest[:8]), 16, 32)
	if err != nil {
		return nil, errForm
	}
	rest, ok = bytes.CutPrefix(rest[8:], []byte(lineInner))
	if !ok {
		return nil, errForm
	}
	rest, ok = bytes.CutSuffix(rest, []byte(lineTail))
	if !ok {
		return nil, errForm
	}
	if crc32.ChecksumIEEE(rest) != uint32(sum) {
		return nil, errSum
	}
	return rest, nil
}
