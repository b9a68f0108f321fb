package visit

import (
	"maps"
	"slices"
	"time"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Item is one answer of a visit.
type Item struct {
	ID    ItemID
	At    time.Time
	Reply Reply
}

// Round is one walk of a visit: the first, or a test after repair.
type Round struct {
	Start   faulttree.Ref
	Began   time.Time
	Items   []Item   // the answers that hold: neither taken back nor replaced since
	Undone  []Undone // the others, in the order in which they ceased to hold
	Unasked []Taken  // readings supplied together that no step has taken, by quantity
	Lost    bool     // a record of this round is lost, or may be
}

// Undone is an answer that was given and no longer holds.
type Undone struct {
	Item
	When time.Time
	How  Undoing
	By   Reply // Replaced: the answer in its place
}

// Undoing is how an answer ceased to hold.
type Undoing uint8

const (
	TakenBack  Undoing = iota // the reader went back over it
	Replaced                  // another answer was given to the same step
	LeftBehind                // an earlier answer was replaced, and the new way does not ask for it
)

// Tested is how many readings of the round were taken. What could not be
// measured was not.
func (r Round) Tested() int {
	n := 0
	for _, item := range r.Items {
		n += lists.Count(item.Reply.Readings, func(t Taken) bool { return t.Quality != faulttree.NotPossible })
	}
	return n
}

// Rounds folds the records into the answers of each round; the last round is
// the current one. It needs no handbook.
func (v Visit) Rounds() []Round {
	lost := v.lostAfter()
	headless := v.headless()
	rounds := []Round{{Start: v.Header.Start, Began: v.Header.Started, Lost: headless}}
	for i := range len(v.Records) + 1 {
		last := &rounds[len(rounds)-1]
		last.Lost = last.Lost || lost[i]
		if i == len(v.Records) {
			break
		}
		if r := v.Records[i]; r.Kind == Retested {
			rounds = append(rounds, Round{Start: r.Start, Began: r.At, Lost: headless})
		} else {
			last.add(r)
		}
	}
	return rounds
}

// Tested is how many readings were taken again since the newest test after
// repair began; 0 where none has begun, and while nothing has been read in it.
func (v Visit) Tested() int {
	rounds := v.Rounds()
	if len(rounds) == 1 {
		return 0
	}
	return rounds[len(rounds)-1].Tested()
}

// lostAfter says after how many records one is lost, or may be.
func (v Visit) lostAfter() map[int]bool {
	lost := map[int]bool{}
	for _, d := range v.Damage {
		if d.Lost {
			lost[d.After] = true
		}
	}
	return lost
}

// headless reports whether the first line is lost: for whom and with which
// meter the rounds were walked is then a guess.
func (v Visit) headless() bool { return len(v.Damage) > 0 && v.Damage[0].Line == 1 && v.Damage[0].Lost }

// Until is the visit as it stood at the end of a round, counted from 0: without
// the tests after repair that followed, and with the newest details.
func (v Visit) Until(round int) Visit {
	v.Header.Details, v.Header.Vehicle = v.Details(), v.Vehicle()
	for i, r := range v.Records {
		if r.Kind != Retested {
			continue
		}
		if round--; round < 0 {
			v.Records = v.Records[:i:i]
			v.Damage = slices.DeleteFunc(slices.Clone(v.Damage), func(d Damage) bool { return d.After > i })
			v.Torn = false
			break
		}
	}
	return v
}

// add puts a record into the round. One that names an answer which is not
// there, as after a damaged line, adds what it brings and takes away nothing.
func (r *Round) add(rec Record) {
	switch at := index(r.Items, rec.Item); rec.Kind {
	case Answered, Supplied:
		for n, reply := range rec.Replies {
			r.Items = append(r.Items, Item{ItemID{rec.Seq, n}, rec.At, reply})
		}
		if rec.Kind == Supplied {
			r.supplied(rec)
		}
	case Backed:
		if at >= 0 {
			r.Undone = append(r.Undone, Undone{Item: r.Items[at], When: rec.At, How: TakenBack})
			r.Items = slices.Delete(r.Items, at, at+1)
		}
	case Changed:
		changed := Item{ItemID{Seq: rec.Seq}, rec.At, rec.Replies[0]}
		if at < 0 {
			r.Items = append(r.Items, changed)
			return
		}
		later := slices.Clone(r.Items[at+1:])
		r.Undone = append(r.Undone, Undone{Item: r.Items[at], When: rec.At, How: Replaced, By: changed.Reply})
		r.Items = append(r.Items[:at], changed)
		for _, id := range rec.Kept {
			if k := index(later, id); k >= 0 {
				r.Items = append(r.Items, later[k])
				later = slices.Delete(later, k, k+1)
			}
		}
		for _, item := range later {
			r.Undone = append(r.Undone, Undone{Item: item, When: rec.At, How: LeftBehind})
		}
	}
}

// supplied adds the readings of a sheet that it did not answer a step with, and
// takes out those that it did after all.
func (r *Round) supplied(rec Record) {
	for _, id := range slices.Sorted(maps.Keys(rec.Supply.Readings)) {
		for _, reading := range rec.Supply.Readings[id] {
			if t := (Taken{Quantity: id, Reading: reading}); !slices.ContainsFunc(r.Unasked, t.same) {
				r.Unasked = append(r.Unasked, t)
			}
		}
	}
	for _, reply := range rec.Replies {
		for _, t := range reply.Readings {
			r.Unasked = slices.DeleteFunc(r.Unasked, t.same)
		}
	}
}

// beside is what was given and no step has taken, by quantity.
func (r Round) beside() map[string][]faulttree.Reading {
	out := map[string][]faulttree.Reading{}
	for _, t := range r.Unasked {
		out[t.Quantity] = append(out[t.Quantity], t.Reading)
	}
	return out
}

// same reports whether two readings are of one quantity and say the same.
func (t Taken) same(u Taken) bool { return t.Quantity == u.Quantity && t.Reading.Same(u.Reading) }

func index(items []Item, id ItemID) int {
	return slices.IndexFunc(items, func(i Item) bool { return i.ID == id })
}
