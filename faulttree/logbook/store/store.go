// Package store keeps the reader's own vehicles on disk, one file each, written whole; see
// [faultwright/faulttree/journal/files.Folder.Rewrite] for how.
package store

import (
	"errors"
	"fmt"
	"io/fs"
	"slices"
	"strings"

	"faultwright/faulttree/journal/files"
	"faultwright/faulttree/logbook"
)

// MostBytes is the largest file of a vehicle that is read or written.
const MostBytes = 256 << 10

// ErrChanged means that a vehicle was changed since it was read.
var ErrChanged = errors.New("this vehicle was changed in another window meanwhile")

var vehicles = files.Kind{One: "vehicle", Many: "vehicles", Ending: ".vehicle", Most: MostBytes}

// Store is a folder of vehicles. Close it after use.
type Store struct{ folder *files.Folder }

// Folder is where vehicles are kept: faultwright/vehicles in the user's data folder; see
// [files.Place]. Env looks up a variable.
func Folder(env func(string) string) (string, error) { return files.Place(env, "vehicles") }

// Open uses the folder dir and makes it if it is not there, for the user alone.
func Open(dir string) (*Store, error) {
	folder, err := files.Open(dir, vehicles)
	if err != nil {
		return nil, err
	}
	return &Store{folder}, nil
}

// Close lets go of the folder.
func (s *Store) Close() error { return s.folder.Close() }

// Dir is where the folder is.
func (s *Store) Dir() string { return s.folder.Dir() }

// Add keeps a new vehicle and returns it as it is kept. An empty id is drawn. The error is
// an [fs.ErrExist] where there is one of this id.
func (s *Store) Add(v logbook.Vehicle) (logbook.Vehicle, error) {
	v.Revision = 1
	f, id, err := s.folder.Create(v.ID, v.Made, func(id string) ([]byte, error) {
		v.ID = id
		return logbook.Encode(v)
	})
	if err != nil {
		return v, err
	}
	v.ID = id
	return v.Tidy(), f.Close()
}

// Save keeps a vehicle in the place of what is on disk of it, and returns it with its new
// revision. The error is [ErrChanged], and nothing is written, where that is of another
// revision than the vehicle was read with.
func (s *Store) Save(v logbook.Vehicle) (logbook.Vehicle, error) {
	read := v.Revision
	err := s.folder.Rewrite(v.ID, func(now []byte) ([]byte, error) {
		kept, err := decode(now, v.ID)
		if err != nil {
			return nil, err
		}
		if kept.Revision != read {
			return nil, ErrChanged
		}
		v.Revision = read + 1
		return logbook.Encode(v)
	})
	if err != nil {
		v.Revision = read
	}
	return v.Tidy(), err
}

// Read reads one vehicle. The error is an [fs.ErrNotExist] where there is none.
func (s *Store) Read(id string) (logbook.Vehicle, error) {
	text, err := s.folder.Read(id)
	if err != nil {
		return logbook.Vehicle{}, err
	}
	return decode(text, id)
}

func decode(text []byte, id string) (logbook.Vehicle, error) {
	v, err := logbook.Decode(text)
	return v, vehicles.Named(id, v.ID, err)
}

// Unread is a file that cannot be read as a vehicle, and why.
type Unread struct {
	ID  string
	Err error
}

// List reads every vehicle, by name; and what cannot be read.
func (s *Store) List() (all []logbook.Vehicle, unread []Unread, err error) {
	err = s.folder.Each(func(id string, err error) {
		v, read := logbook.Vehicle{}, err
		if read == nil {
			v, read = s.Read(id)
		}
		switch {
		case errors.Is(read, fs.ErrNotExist): // deleted this moment
		case read != nil:
			unread = append(unread, Unread{id, read})
		default:
			all = append(all, v)
		}
	})
	slices.SortStableFunc(all, func(a, b logbook.Vehicle) int {
		return strings.Compare(strings.ToLower(a.Name), strings.ToLower(b.Name))
	})
	if err != nil {
		err = fmt.Errorf("the vehicles could not be listed: %w", err)
	}
	return all, unread, err
}

// Delete removes a vehicle for good; its visits stay. Ask first.
func (s *Store) Delete(id string) error { return s.folder.Delete(id) }
