package store

import (
	"time"

	"faultwright/faulttree/journal/files"
	"faultwright/faulttree/visit"
)

// MostVisits is how many visits are listed, the newest by name.
const MostVisits = files.MostListed

// Summary is a line of the list of visits.
type Summary struct {
	ID      string
	Header  visit.Header
	Details visit.Details // the newest
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
		ID: id, Header: v.Header, Details: v.Details(), Last: v.Last(), Damaged: len(v.Damage) > 0,
		Answers: len(last.Items), Rounds: len(rounds), Tested: v.Tested(),
	}
	for _, r := range rounds[:len(rounds)-1] {
		out.Before += len(r.Items)
	}
	return out
}
