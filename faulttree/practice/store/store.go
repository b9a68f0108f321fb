package store

import (
	"slices"
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
type Store struct{ folder *files.Folder }

// Open uses the folder dir and makes it if it is not there, for the user alone.
// Nothing outside it is ever read or written, whatever links it holds.
func Open(dir string) (*Store, error) {
	folder, err := files.Open(dir, attempts)
	if err != nil {
		return nil, err
	}
	return &Store{folder}, nil
}

// Close lets go of the folder; open files stay open.
func (s *Store) Close() error { return s.folder.Close() }

// File is one attempt open for writing: the log of its [practice.Recorder].
type File struct {
	*files.File
	kept practice.Kept
}

// Kept is the record as it was when the file was opened, for [practice.Case.Resume].
func (f *File) Kept() practice.Kept { return f.kept }

// Create begins an attempt on disk and opens it. An empty id is filled in.
func (s *Store) Create(h practice.Header) (*File, error) {
	var line []byte
	f, _, err := s.folder.Create(h.ID, h.Started, func(id string) (_ []byte, err error) {
		named := h
		named.ID = id
		line, err = practice.EncodeHeader(named)
		return line, err
	})
	if err != nil {
		return nil, err
	}
	kept, _, err := practice.ReadJournal(line)
	if err != nil {
		f.Close()
		return nil, err
	}
	return &File{f, kept}, nil
}

// Read reads an attempt without opening it for writing, also while it is open
// elsewhere. What its displays showed is as it was written; see
// [practice.Case.Verify].
func (s *Store) Read(id string) (practice.Kept, error) {
	text, err := s.folder.Read(id)
	if err != nil {
		return practice.Kept{}, err
	}
	kept, _, err := read(text, id)
	return kept, err
}

// Open opens an attempt to go on with it; see [files.Folder.Open]. The error is
// ErrElsewhere if another window has it.
func (s *Store) Open(id string) (*File, error) {
	var kept practice.Kept
	f, err := s.folder.Open(id, func(text []byte) (keep int, err error) {
		kept, keep, err = read(text, id)
		return keep, err
	})
	if err != nil {
		return nil, err
	}
	return &File{f, kept}, nil
}

// Delete removes an attempt for good. Ask the user first. The error is
// ErrElsewhere if a window has it open.
func (s *Store) Delete(id string) error { return s.folder.Delete(id) }

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
	var out []Summary
	err := s.folder.Each(func(id string, err error) {
		if err != nil {
			out = append(out, Summary{ID: id, Err: err})
			return
		}
		out = append(out, s.summary(id))
	})
	slices.SortStableFunc(out, func(a, b Summary) int { return b.Header.Started.Compare(a.Header.Started) })
	return out, err
}

func (s *Store) summary(id string) Summary {
	kept, err := s.Read(id)
	if err != nil {
		return Summary{ID: id, Err: err}
	}
	a := kept.Attempt
	return Summary{
		ID: id, Header: kept.Header, Last: a.Last(), Acts: len(a.Acts), Readings: len(a.ReadingsAt()),
		Ended: a.Ended(), Repaired: a.Repaired > 0, Damaged: len(kept.Damage) > 0,
	}
}
