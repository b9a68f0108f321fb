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
type Store struct{ *files.Store[visit.Visit] }

// File is one visit open for writing: the [visit.Log] of its recorder.
type File = files.Opened[visit.Visit]

// Open uses the folder dir and makes it if it is not there, for the user
// alone. Nothing outside it is ever read or written, whatever links it holds.
func Open(dir string) (*Store, error) {
	s, err := files.OpenStore(dir, visits, read)
	if err != nil {
		return nil, err
	}
	return &Store{s}, nil
}

// Create begins a visit on disk and opens it. An empty id is filled in.
func (s *Store) Create(h visit.Header) (*File, error) {
	named := func(id string) visit.Header { h.ID = id; return h }
	return s.Begin(h.ID, h.Started, func(id string) ([]byte, error) { return visit.EncodeHeader(named(id)) },
		func(id string) visit.Visit { return visit.Visit{Header: named(id)} })
}

// read is the visit in the text of its file and how many bytes to keep.
func read(text []byte, id string) (visit.Visit, int, error) {
	v, keep, err := visit.Read(text)
	if err == nil && v.Header.ID == "" { // its first line is damaged
		v.Header.ID = id
	}
	return v, keep, visits.Named(id, v.Header.ID, err)
}
