package files

import (
	"slices"
	"time"
)

// Store is a folder of journals that are each read as a V. Close it after use.
type Store[V any] struct {
	*Folder
	read func(text []byte, id string) (v V, keep int, err error)
}

// OpenStore uses the folder dir as [Open] does. Read turns the text of the journal of
// an id into a V, and says how many bytes to keep.
func OpenStore[V any](dir string, kind Kind, read func(text []byte, id string) (v V, keep int, err error)) (*Store[V], error) {
	folder, err := Open(dir, kind)
	if err != nil {
		return nil, err
	}
	return &Store[V]{folder, read}, nil
}

// Opened is one journal open for writing: the [journal.Log] of its recorder.
type Opened[V any] struct {
	*File
	record V
}

// Record is the record as it was when the file was opened.
func (f *Opened[V]) Record() V { return f.record }

// Begin begins a journal on disk as [Folder.Create] does. Head makes its first line
// for an id, record what is on record then.
func (s *Store[V]) Begin(id string, started time.Time, head func(id string) ([]byte, error), record func(id string) V) (*Opened[V], error) {
	f, id, err := s.Folder.Create(id, started, head)
	if err != nil {
		return nil, err
	}
	return &Opened[V]{f, record(id)}, nil
}

// Read reads a journal without opening it for writing: for looking, listing and
// reports, also while it is open elsewhere.
func (s *Store[V]) Read(id string) (V, error) {
	text, err := s.Folder.Read(id)
	if err != nil {
		var none V
		return none, err
	}
	v, _, err := s.read(text, id)
	return v, err
}

// Open opens a journal to go on with it; see [Folder.Open]. The error is
// [ErrElsewhere] if another window has it.
func (s *Store[V]) Open(id string) (*Opened[V], error) {
	var v V
	f, err := s.Folder.Open(id, func(text []byte) (keep int, err error) {
		v, keep, err = s.read(text, id)
		return keep, err
	})
	if err != nil {
		return nil, err
	}
	return &Opened[V]{f, v}, nil
}

// Text is the text of a journal as it is kept, to be handed on.
func (s *Store[V]) Text(id string) ([]byte, error) { return s.Folder.Read(id) }

// Take keeps a journal that was made elsewhere; see [Folder.Take]. What cannot be read
// under this id is not taken.
func (s *Store[V]) Take(id string, text []byte) error {
	if _, _, err := s.read(text, id); err != nil {
		return err
	}
	return s.Folder.Take(id, text)
}

// List is a line of every journal, the newest first by when. Line is given the error
// that says why the journal cannot be read, if any.
func List[V, L any](s *Store[V], line func(id string, v V, err error) L, when func(L) time.Time) ([]L, error) {
	var out []L
	err := s.Each(func(id string, err error) {
		var v V
		if err == nil {
			v, err = s.Read(id)
		}
		out = append(out, line(id, v, err))
	})
	slices.SortStableFunc(out, func(a, b L) int { return when(b).Compare(when(a)) })
	return out, err
}
