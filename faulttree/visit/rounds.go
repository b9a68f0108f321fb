package visit

import (
	"slices"
	"time"

	"faultwright/faulttree"
)

// Item is one answer that holds: it was given, and neither taken back nor
// replaced since.
type Item struct {
	ID    ItemID
	At    time.Time
	Reply Reply
}

// Round is one walk of a visit: the first, or a test after repair.
type Round struct {
	Start faulttree.Ref
	Began time.Time
	Items []Item
}

// Rounds folds the records into the answers that hold, round by round; the
// last round is the current one. It needs no handbook.
func (v Visit) Rounds() []Round {
	rounds := []Round{{Start: v.Header.Start, Began: v.Header.Started}}
	for _, r := range v.Records {
		if r.Kind == Retested {
			rounds = append(rounds, Round{Start: r.Start, Began: r.At})
			continue
		}
		last := &rounds[len(rounds)-1]
		last.Items = fold(last.Items, r)
	}
	return rounds
}

// fold is items after record r. A record that names an answer which is not
// there, as after a damaged line, adds what it brings and takes away nothing.
func fold(items []Item, r Record) []Item {
	switch r.Kind {
	case Answered, Supplied:
		items = slices.Clip(items)
		for n, reply := range r.Replies {
			items = append(items, Item{ItemID{r.Seq, n}, r.At, reply})
		}
	case Backed:
		return slices.DeleteFunc(slices.Clone(items), func(i Item) bool { return i.ID == r.Item })
	case Changed:
		i := index(items, r.Item)
		changed := Item{ItemID{Seq: r.Seq}, r.At, r.Replies[0]}
		if i < 0 {
			return append(slices.Clip(items), changed)
		}
		next := append(slices.Clone(items[:i]), changed)
		for _, id := range r.Kept {
			if k := index(items, id); k > i {
				next = append(next, items[k])
			}
		}
		return next
	}
	return items
}

func index(items []Item, id ItemID) int {
	return slices.IndexFunc(items, func(i Item) bool { return i.ID == id })
}
