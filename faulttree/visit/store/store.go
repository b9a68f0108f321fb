package store

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"faultwright/faulttree/visit"
)

const (
	ending = ".visit"
	// MostBytes is the largest journal that is read or written.
	MostBytes = 8 << 20
)

// ErrElsewhere means that another window or program has the visit open.
var ErrElsewhere = errors.New("this visit is open in another window; close it there to go on here, or look at it without changing it")

// ErrGone means that the record of an open visit is no longer where it was.
var ErrGone = errors.New("the record of this visit was moved or deleted while it was open, so this is not on record")

// Store is a folder of visits. Close it after use.
type Store struct {
	root *os.Root
	dir  string
}

// Open uses the folder dir and makes it if it is not there, for the user
// alone. Nothing outside it is ever read or written, whatever links it holds.
func Open(dir string) (*Store, error) {
	_, err := os.Stat(dir)
	made := err != nil
	if err := os.MkdirAll(dir, 0o700); err != nil {
		return nil, fmt.Errorf("the folder for visits cannot be made: %w", err)
	}
	for parent := filepath.Dir(dir); made && parent != filepath.Dir(parent); parent = filepath.Dir(parent) {
		if d, err := os.Open(parent); err == nil {
			made = syncFolder(d) == nil // as far up as the user may
			d.Close()
		} else {
			made = false
		}
	}
	root, err := os.OpenRoot(dir)
	if err != nil {
		return nil, fmt.Errorf("the folder for visits cannot be opened: %w", err)
	}
	s := &Store{root, dir}
	s.removeDrafts()
	return s, nil
}

// names lists what is in the folder, in no order.
func (s *Store) names() ([]string, error) {
	d, err := s.root.Open(".")
	if err != nil {
		return nil, fmt.Errorf("the folder for visits cannot be opened: %w", err)
	}
	defer d.Close()
	names, err := d.Readdirnames(mostNames)
	if err != nil && err != io.EOF {
		return nil, fmt.Errorf("the folder for visits cannot be read: %w", err)
	}
	return names, nil
}

// Close lets go of the folder; open files stay open.
func (s *Store) Close() error { return s.root.Close() }

// sync makes the names in the folder last, where the system can.
func (s *Store) sync() error {
	d, err := s.root.Open(".")
	if err != nil {
		return fmt.Errorf("the folder for visits cannot be opened: %w", err)
	}
	defer d.Close()
	return syncFolder(d)
}

// Read reads a visit without opening it for writing: for looking, listing and
// reports, also while it is open elsewhere.
func (s *Store) Read(id string) (visit.Visit, error) {
	file, err := s.open(id, os.O_RDONLY)
	if err != nil {
		return visit.Visit{}, err
	}
	defer file.Close()
	v, _, err := read(file, id)
	return v, err
}

// Open opens a visit to go on with it. A torn last line is cut off, and damaged
// bytes at the end are followed by a line end, so that the next record begins
// on a line of its own. The error is ErrElsewhere if
// another window has it.
func (s *Store) Open(id string) (_ *File, err error) {
	file, err := s.open(id, os.O_RDWR|os.O_APPEND)
	if err != nil {
		return nil, err
	}
	unlock, err := lock(s.root, file, id+ending)
	if err != nil {
		file.Close()
		return nil, err
	}
	f := &File{file: file, root: s.root, name: id + ending, unlock: unlock}
	defer func() {
		if err != nil {
			f.Close()
		}
	}()
	if err := s.same(file, f.name); err != nil {
		return nil, fmt.Errorf("visit %s: %w", id, err)
	}
	var keep int64
	if f.visit, keep, err = read(file, id); err != nil {
		return nil, err
	}
	return f, f.prepare(keep)
}

// same reports whether the locked file is still the one of that name: it may
// have been deleted between opening and locking.
func (s *Store) same(file *os.File, name string) error {
	mine, err := file.Stat()
	if err != nil {
		return err
	}
	there, err := s.root.Lstat(name)
	if err != nil || !os.SameFile(mine, there) {
		return fs.ErrNotExist
	}
	return nil
}

func (s *Store) open(id string, flag int) (*os.File, error) {
	if err := visit.CheckID(id); err != nil {
		return nil, err
	}
	switch info, err := s.root.Lstat(id + ending); {
	case errors.Is(err, fs.ErrNotExist):
		return nil, fmt.Errorf("there is no visit %s: %w", id, fs.ErrNotExist)
	case err != nil:
		return nil, fmt.Errorf("visit %s cannot be read: %w", id, err)
	case !info.Mode().IsRegular():
		return nil, fmt.Errorf("visit %s is not an ordinary file", id)
	}
	file, err := s.root.OpenFile(id+ending, flag, 0)
	if err != nil {
		return nil, fmt.Errorf("visit %s cannot be opened: %w", id, err)
	}
	return file, nil
}

// read is the visit in file and how many of its bytes to keep.
func read(file *os.File, id string) (visit.Visit, int64, error) {
	text, err := io.ReadAll(io.LimitReader(file, MostBytes+1))
	if err != nil {
		return visit.Visit{}, 0, fmt.Errorf("visit %s cannot be read: %w", id, err)
	}
	if len(text) > MostBytes {
		return visit.Visit{}, 0, fmt.Errorf("visit %s is larger than %d MiB and is not read", id, MostBytes>>20)
	}
	v, keep, err := visit.Read(text)
	if err != nil {
		return v, 0, fmt.Errorf("visit %s cannot be read: %w", id, err)
	}
	if v.Header.ID == "" { // its first line is damaged
		v.Header.ID = id
	}
	if v.Header.ID != id {
		return v, 0, fmt.Errorf("the file of visit %s holds visit %s; give it its own name back", id, v.Header.ID)
	}
	return v, int64(keep), nil
}

// Delete removes a visit for good. Ask the user first. The error is
// ErrElsewhere if a window has it open.
func (s *Store) Delete(id string) error {
	file, err := s.open(id, os.O_RDWR)
	if err != nil {
		return err
	}
	defer file.Close()
	unlock, err := lock(s.root, file, id+ending)
	if err != nil {
		return err
	}
	defer unlock()
	if err := s.root.Remove(id + ending); err != nil {
		return fmt.Errorf("visit %s cannot be deleted: %w", id, err)
	}
	return s.sync()
}
