// Package store keeps attempts at practice on disk, one journal file each, apart
// from visits; see [faultwright/faulttree/journal/files] for how.
package store

import (
	"time"

	"faultwright/faulttree/journal/files"
	"faultwright/faulttree/practice"
)

// ErrElsewhere means that another window or program has the attempt open.
var ErrElsewhere = files.ErrElsewhere

var attempts = files.Kind{One: "attempt", Many: "attempts", Ending: ".attempt", Most: 8 << 20}

// Folder is where attempts are kept: faultwright/practice in the user's data
// folder; see [files.Place]. Env looks up a variable.
func Folder(env func(string) string) (string, error) { return files.Place(env, "practice") }

// Store is a folder of attempts. Close it after use.
type Store struct{ *files.Store[practice.Kept] }

// File is one attempt open for writing: the log of its [practice.Recorder]. Its record
// is for [practice.Case.Resume]; what its displays showed is as it was written, see
// [practice.Case.Verify].
type File = files.Opened[practice.Kept]

// Open uses the folder dir and makes it if it is not there, for the user alone.
// Nothing outside it is ever read or written, whatever links it holds.
func Open(dir string) (*Store, error) {
	s, err := files.OpenStore(dir, attempts, read)
	if err != nil {
		return nil, err
	}
	return &Store{s}, nil
}

// Create begins an attempt on disk and opens it. An empty id is filled in.
func (s *Store) Create(h practice.Header) (*File, error) {
	named := func(id string) practice.Header { h.ID = id; return h }
	return s.Begin(h.ID, h.Started, func(id string) ([]byte, error) { return practice.EncodeHeader(named(id)) },
		func(id string) practice.Kept { return practice.Begun(named(id)) })
}

// read is the attempt in the text of its file and how many bytes to keep.
func read(text []byte, id string) (practice.Kept, int, error) {
	kept, keep, err := practice.ReadJournal(text)
	return kept, keep, attempts.Named(id, kept.Header.ID, err)
}

// Summary is a line of the list of attempts.
type Summary struct {
	ID       string
	Header   practice.Header
	Last     time.Duration // when the newest act was done, or the conclusion, since the beginning
	Acts     int
	Readings int
	Ended    bool  // there is a conclusion
	Repaired bool  // and the repair was done
	Damaged  bool  // part of the record could not be read
	Err      error // why it cannot be read at all
}

// List tells of every attempt, the one that was begun last first.
func (s *Store) List() ([]Summary, error) {
	return files.List(s.Store, summary, func(s Summary) time.Time { return s.Header.Started })
}

func summary(id string, kept practice.Kept, err error) Summary {
	if err != nil {
		return Summary{ID: id, Err: err}
	}
	a := kept.Attempt
	return Summary{
		ID: id, Header: kept.Header, Last: a.Last(), Acts: len(a.Acts), Readings: len(a.ReadingsAt()),
		Ended: a.Ended(), Repaired: a.Repaired > 0, Damaged: len(kept.Damage) > 0,
	}
}
