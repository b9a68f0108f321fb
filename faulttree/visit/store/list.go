package store

import (
	"fmt"
	"io"
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
	Rounds  int   // more than one after a test after repair
	Damaged bool  // part of the record can not be trusted
	Err     error // why it can not be read at all
}

// List tells of every visit, the newest first.
func (s *Store) List() ([]Summary, error) {
	d, err := s.root.Open(".")
	if err != nil {
		return nil, fmt.Errorf("the folder for visits can not be opened: %w", err)
	}
	defer d.Close()
	names, err := d.Readdirnames(mostNames)
	if err != nil && err != io.EOF {
		return nil, fmt.Errorf("the folder for visits can not be read: %w", err)
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
	return Summary{
		ID: id, Header: v.Header, Details: v.Details(), Last: v.Last(), Damaged: len(v.Damage) > 0,
		Answers: len(rounds[len(rounds)-1].Items), Rounds: len(rounds),
	}
}
