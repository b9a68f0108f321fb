// Package store keeps visits on disk, one journal file each; see
// [faultwright/faulttree/journal/files] for how.
package store

import (
	"time"

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

// Folder is where visits are kept: faultwright/visits in the user's data
// folder; see [files.Place]. Env looks up a variable.
func Folder(env func(string) string) (string, error) { return files.Place(env, "visits") }

// MostVisits is how many visits are listed, the newest by name.
const MostVisits = files.MostListed

// Summary is a line of the list of visits.
type Summary struct {
	ID      string
	Header  visit.Header
	Details visit.Details // the newest
	Vehicle string        // the reader's own that it is of; see [visit.Visit.Vehicle]
	Last    time.Time
	Answers int   // that hold in the current round
	Before  int   // that hold in the rounds before it
	Rounds  int   // more than one where a test after repair was begun
	Tested  int   // readings taken in the test after repair; 0 where it has only begun
	Damaged bool  // part of the record could not be read
	Err     error // why it cannot be read at all
}

// List tells of every visit, the newest first.
func (s *Store) List() ([]Summary, error) {
	return files.List(s.Store, summary, func(s Summary) time.Time { return s.Last })
}

func summary(id string, v visit.Visit, err error) Summary {
	if err != nil {
		return Summary{ID: id, Header: v.Header, Err: err}
	}
	rounds := v.Rounds()
	last := rounds[len(rounds)-1]
	out := Summary{
		ID: id, Header: v.Header, Details: v.Details(), Vehicle: v.Vehicle(), Last: v.Last(), Damaged: len(v.Damage) > 0,
		Answers: len(last.Items), Rounds: len(rounds), Tested: v.Tested(),
	}
	for _, r := range rounds[:len(rounds)-1] {
		out.Before += len(r.Items)
	}
	return out
}
