package session

import (
	"io"

	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// Store keeps visits. What each method does and returns is said at
// [store.Store].
type Store interface {
	Create(visit.Header) (File, error)
	Open(id string) (File, error)
	Read(id string) (visit.Visit, error)
	List() ([]store.Summary, error)
	Delete(id string) error
}

// File is a visit that is open for writing, which no other window can open.
type File interface {
	visit.Log
	io.Closer
	Visit() visit.Visit
}

// OnDisk is a folder of visits as a [Store].
func OnDisk(s *store.Store) Store { return onDisk{s} }

type onDisk struct{ *store.Store }

func (d onDisk) Create(h visit.Header) (File, error) { return opened(d.Store.Create(h)) }
func (d onDisk) Open(id string) (File, error)        { return opened(d.Store.Open(id)) }

func opened(f *store.File, err error) (File, error) {
	if err != nil {
		return nil, err
	}
	return f, nil
}

// inMemory is the file of a visit that is kept nowhere.
type inMemory struct{ v visit.Visit }

func (inMemory) Append([]byte) error  { return nil }
func (inMemory) Close() error         { return nil }
func (m inMemory) Visit() visit.Visit { return m.v }

// elsewhere is the file of a visit that another window has.
type elsewhere struct{ v visit.Visit }

func (elsewhere) Append([]byte) error  { return store.ErrElsewhere }
func (elsewhere) Close() error         { return nil }
func (e elsewhere) Visit() visit.Visit { return e.v }
