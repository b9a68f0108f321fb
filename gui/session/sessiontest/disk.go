// Package sessiontest stands in, in tests, for a disk that fails and for drawn vehicles.
package sessiontest

import (
	"errors"
	"time"

	"faultwright/faulttree/visit"
	"faultwright/gui/session"
)

// ErrFull is what a full disk answers.
var ErrFull = errors.New("no space is left on the disk")

// Disk is a store whose disk can be full, or fail when a file is closed.
type Disk struct {
	session.Visits
	Full      bool  // nothing more can be written
	FullAfter int   // visits that can be begun until it is full; 0 is no end
	Unclosed  error // what closing a file answers
	Torn      bool  // a write that fails leaves half a line, so that the file must be opened again
}

// Create refuses while the disk is full.
func (d *Disk) Create(h visit.Header) (session.File[visit.Visit], error) {
	if d.Full {
		return nil, ErrFull
	}
	if d.FullAfter > 0 {
		d.FullAfter--
		d.Full = d.FullAfter == 0
	}
	return d.file(d.Visits.Create(h))
}

// Open opens a visit whose file fails as the disk does.
func (d *Disk) Open(id string) (session.File[visit.Visit], error) { return d.file(d.Visits.Open(id)) }

func (d *Disk) file(f session.File[visit.Visit], err error) (session.File[visit.Visit], error) {
	if err != nil {
		return nil, err
	}
	return &file{File: f, disk: d}, nil
}

type file struct {
	session.File[visit.Visit]
	disk *Disk
	torn bool
}

func (f *file) Append(line []byte) error {
	if f.disk.Full || f.torn {
		f.torn = f.torn || f.disk.Torn
		return ErrFull
	}
	return f.File.Append(line)
}

func (f *file) Close() error { return errors.Join(f.File.Close(), f.disk.Unclosed) }

// Noon is a clock that stands.
func Noon() time.Time { return time.Date(2026, 5, 3, 12, 0, 0, 0, time.UTC) }
