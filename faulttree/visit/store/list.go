package store

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"faultwright/faulttree/visit"
)

const (
	// MostVisits is how many visits are listed, the newest by name.
	MostVisits = 2000
	// mostNames is how many names of a folder are looked at.
	mostNames = 100_000
	// mostListed is how many bytes of journals the list looks into.
	mostListed = 128 << 20
)

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
	names, err := s.names()
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, name := range names {
		if id, ok := strings.CutSuffix(name, ending); ok && visit.CheckID(id) == nil {
			ids = append(ids, id)
		}
	}
	slices.Sort(ids)
	slices.Reverse(ids)
	if len(ids) > MostVisits {
		ids = ids[:MostVisits]
	}
	var out []Summary
	left := int64(mostListed)
	for _, id := range ids {
		if info, err := s.root.Lstat(id + ending); err == nil {
			left -= min(info.Size(), MostBytes)
		}
		if left < 0 {
			out = append(out, Summary{ID: id, Err: fmt.Errorf("visit %s is not looked into: the folder holds more than %d MiB; open it by its name", id, mostListed>>20)})
			continue
		}
		out = append(out, s.summary(id))
	}
	slices.SortStableFunc(out, func(a, b Summary) int { return b.Last.Compare(a.Last) })
	return out, nil
}

func (s *Store) summary(id string) Summary {
	v, err := s.Read(id)
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
