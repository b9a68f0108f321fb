package session

import (
	"io"

	"faultwright/faulttree/journal"
	"faultwright/faulttree/journal/files"
	"faultwright/faulttree/practice"
	attempts "faultwright/faulttree/practice/store"
	"faultwright/faulttree/visit"
	"faultwright/faulttree/visit/store"
)

// Keeps is a store of records R that begin with a header H and are listed by lines L.
// What each method does and returns is said at [files.Store].
type Keeps[H, R, L any] interface {
	Create(H) (File[R], error)
	Open(id string) (File[R], error)
	Read(id string) (R, error)
	List() ([]L, error)
	Delete(id string) error
	Text(id string) ([]byte, error)
	Take(id string, text []byte) error
}

// Visits keeps visits, Attempts keeps attempts at practice, apart from them.
type (
	Visits   = Keeps[visit.Header, visit.Visit, store.Summary]
	Attempts = Keeps[practice.Header, practice.Kept, attempts.Summary]
)

// File is a record that is open for writing, which no other window can open.
type File[R any] interface {
	journal.Log
	io.Closer
	Record() R
}

// disk is a folder of records.
type disk[H, R, L any] interface {
	Create(H) (*files.Opened[R], error)
	Open(id string) (*files.Opened[R], error)
	Read(id string) (R, error)
	List() ([]L, error)
	Delete(id string) error
	Text(id string) ([]byte, error)
	Take(id string, text []byte) error
}

type onDisk[H, R, L any] struct{ disk[H, R, L] }

// OnDisk is a folder of visits, or of attempts, as what the session keeps them in.
func OnDisk[H, R, L any](folder disk[H, R, L]) Keeps[H, R, L] { return onDisk[H, R, L]{folder} }

func (d onDisk[H, R, L]) Create(h H) (File[R], error)     { return opened(d.disk.Create(h)) }
func (d onDisk[H, R, L]) Open(id string) (File[R], error) { return opened(d.disk.Open(id)) }

func opened[R any](f *files.Opened[R], err error) (File[R], error) {
	if err != nil {
		return nil, err
	}
	return f, nil
}

// unkept is the file of a record that is not kept here: nowhere, or by another window,
// which err says to who writes to it.
type unkept[R any] struct {
	record R
	err    error
}

func (u unkept[R]) Append([]byte) error { return u.err }
func (unkept[R]) Close() error          { return nil }
func (u unkept[R]) Record() R           { return u.record }
