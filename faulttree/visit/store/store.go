package store

import (
	"faultwright/faulttree/journal/files"
	"faultwright/faulttree/visit"
)

// MostBytes is the largest journal that is read or written.
const MostBytes = 8 << 20

// ErrElsewhere means that another window or program has the visit open.
var ErrElsewhere = files.ErrElsewhere

// ErrGone means that the record of an open visit is no longer where it was.
var ErrGone = files.ErrGone

var visits = files.Kind{One: "visit", Many: "visits", Ending: ".visit", Most: MostBytes}

// Store is a folder of visits. Close it after use.
type Store struct{ folder *files.Folder }

// Open uses the folder dir and makes it if it is not there, for the user
// alone. Nothing outside it is ever read or written, whatever links it holds.
func Open(dir string) (*Store, error) {
	folder, err := files.Open(dir, visits)
	if err != nil {
		return nil, err
	}
	return &Store{folder}, nil
}

// Close lets go of the folder; open files stay open.
func (s *Store) Close() error { return s.folder.Close() }

// File is one visit open for writing. It is the [visit.Log] of its recorder.
type File struct {
	*files.File
	visit visit.Visit
}

// Visit is the record as it was when the file was opened.
func (f *File) Visit() visit.Visit { return f.visit }

// Create begins a visit on disk and opens it. An empty id is filled in.
func (s *Store) Create(h visit.Header) (*File, error) {
	f, id, err := s.folder.Create(h.ID, h.Started, func(id string) ([]byte, error) {
		named := h
		named.ID = id
		return visit.EncodeHeader(named)
	})
	if err != nil {
		return nil, err
	}
	h.ID = id
	return &File{f, visit.Visit{Header: h}}, nil
}

// Read reads a visit without opening it for writing: for looking, listing and
// reports, also while it is open elsewhere.
func (s *Store) Read(id string) (visit.Visit, error) {
	text, err := s.folder.Read(id)
	if err != nil {
		return visit.Visit{}, err
	}
	v, _, err := read(text, id)
	return v, err
}

// Open opens a visit to go on with it; see [files.Folder.Open]. The error is
// ErrElsewhere if another window has it.
func (s *Store) Open(id string) (*File, error) {
	var v visit.Visit
	f, err := s.folder.Open(id, func(text []byte) (keep int, err error) {
		v, keep, err = read(text, id)
		return keep, err
	})
	if err != nil {
		return nil, err
	}
	return &File{f, v}, nil
}

// Delete removes a visit for good. Ask the user first. The error is
// ErrElsewhere if a window has it open.
func (s *Store) Delete(id string) error { return s.folder.Delete(id) }

// read is the visit in the text of its file and how many bytes to keep.
func read(text []byte, id string) (visit.Visit, int, error) {
	v, keep, err := visit.Read(text)
	if err == nil && v.Header.ID == "" { // its first line is damaged
		v.Header.ID = id
	}
	return v, keep, visits.Named(id, v.Header.ID, err)
}
