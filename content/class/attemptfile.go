package class

import (
	"errors"
	"fmt"
	"io"
	"strings"
	"time"

	"faultwright/faulttree/archive"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
)

// AttemptFile is what a learner hands in: one file with all attempts at an
// assignment. The name is the only thing in it that is personal.
type AttemptFile struct {
	Learner    string             `json:"learner"`    // as it was typed
	Assignment string             `json:"assignment"` // id
	Handbook   string             `json:"handbook"`   // fingerprint of the one that was used
	Saved      time.Time          `json:"saved"`      // by the clock of the learner's computer
	Attempts   []practice.Attempt `json:"attempts"`

	size int // bytes of the text that it was read from
}

const attemptEntry = "attempt.json"

// mostFileActs is how many acts the attempts of one file may have together.
const mostFileActs = 20_000

// Bytes is the attempts as a file. Times are written without the place that a time
// zone would tell.
func (f AttemptFile) Bytes() ([]byte, error) {
	if err := f.check(); err != nil {
		return nil, err
	}
	f.Saved = f.Saved.UTC().Truncate(time.Second)
	f.Attempts = append([]practice.Attempt(nil), f.Attempts...)
	for i := range f.Attempts {
		f.Attempts[i].Started = f.Attempts[i].Started.UTC()
	}
	text, err := archive.Encode(struct {
		archive.Head
		AttemptFile
	}{archive.Ours(attemptFormat), f})
	if err != nil {
		return nil, err
	}
	return archive.Pack([]archive.Entry{{Name: attemptEntry, Text: text}}, f.Saved)
}

// check reports what is wrong with the file as it stands, whatever its assignment
// says.
func (f AttemptFile) check() error {
	switch {
	case strings.TrimSpace(plain(f.Learner)) == "":
		return fmt.Errorf("the attempt has no name of a learner")
	case len(f.Learner) > mostName:
		return fmt.Errorf("the name of the learner has %d bytes; at most %d are taken", len(f.Learner), mostName)
	case !isID(f.Assignment):
		return fmt.Errorf("the attempt does not say its assignment")
	case len(f.Attempts) > MostTasks:
		return fmt.Errorf("there are attempts at %d scenarios; at most %d are read", len(f.Attempts), MostTasks)
	case f.acts() > mostFileActs:
		return fmt.Errorf("the attempts have %d acts; at most %d are read", f.acts(), mostFileActs)
	}
	return nil
}

// acts is how many acts the attempts have together.
func (f AttemptFile) acts() int {
	return lists.Sum(f.Attempts, func(a practice.Attempt) int { return len(a.Acts) })
}

// ReadAttempts reads what [AttemptFile.Bytes] writes. Nothing in it is verified yet.
func ReadAttempts(r io.Reader) (*AttemptFile, error) {
	files, err := read(r)
	if err != nil {
		return nil, err
	}
	return attemptsOf(files)
}

func attemptsOf(files map[string][]byte) (*AttemptFile, error) {
	text, ok := files[attemptEntry]
	if _, handedOut := files[assignmentEntry]; handedOut && !ok {
		return nil, errors.New("this is an assignment that was handed out, and no attempt at it")
	}
	if !ok {
		return nil, fmt.Errorf("this is no attempt: the ZIP file has no entry %s", attemptEntry)
	}
	f := &AttemptFile{size: len(text)}
	if err := archive.Decode(text, attemptFormat, "attempt", f); err != nil {
		return nil, err
	}
	if err := f.check(); err != nil {
		return nil, err
	}
	f.Learner = plain(f.Learner)
	return f, nil
}
