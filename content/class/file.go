package class

import (
	"errors"
	"io"

	"faultwright/faulttree/archive"
)

// MostFile is how many bytes a file that was handed out or in may have.
const MostFile = 8 << 20

var bounds = archive.Bounds{File: MostFile, Unpacked: 24 << 20, Entries: 200}

// The formats.
const (
	assignmentFormat = "faultwright-assignment"
	attemptFormat    = "faultwright-attempt"
)

// ErrNoArchive means that a file is no ZIP at all.
var ErrNoArchive = errors.New("this is no assignment and no attempt: it is not a ZIP file")

// read is the files of what was handed out or in.
func read(r io.Reader) (map[string][]byte, error) {
	raw, err := bounds.Read(r)
	if err != nil {
		return nil, err
	}
	return unpack(raw)
}

func unpack(raw []byte) (map[string][]byte, error) {
	files, err := bounds.Unpack(raw)
	if errors.Is(err, archive.ErrNone) {
		return nil, ErrNoArchive
	}
	return files, err
}
