package sheet

import (
	"maps"
	"slices"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// FromVisit walks a recorded visit again over the library's trees and gathers
// what its sheet is made from. Answers that were taken back, changed, or that
// the handbook no longer takes are kept as such.
func FromVisit(v visit.Visit, lib *content.Library, now time.Time) Input {
	d := v.Details()
	in := Input{ID: v.Header.ID, Site: d.Site, Vehicle: d.Vehicle, Note: d.Note, Started: v.Header.Started, Printed: now}
	in.Unasked = unasked(v, lib)
	undone := takenBack(v, lib)
	rounds := v.Replay(lib.Forest)
	for i, p := range rounds {
		aside := undone[i]
		for _, s := range p.Lapsed() {
			aside = append(aside, Aside{At: s.Item.At, What: view.ReplyText(lib, s.Item.Reply), Why: s.Why})
		}
		if i == len(rounds)-1 {
			in.Walk, in.Aside, in.Again, in.Began = p.Walk, aside, i > 0, p.Round.Began
			continue
		}
		in.Before = append(in.Before, Round{Began: p.Round.Began, Walk: p.Walk, Aside: aside})
	}
	for _, d := range v.Damage {
		in.Aside = append(in.Aside, Aside{At: v.Last(), What: "Part of the record cannot be trusted", Why: d.String() + "."})
	}
	return in
}

// takenBack lists, round by round, the answers that were undone or replaced,
// and those that a change left behind.
func takenBack(v visit.Visit, lib *content.Library) map[int][]Aside {
	out := map[int][]Aside{}
	var items []visit.Item // what holds so far in the round
	round := 0
	for _, r := range v.Records {
		drop := func(item visit.Item, why string) {
			out[round] = append(out[round], Aside{r.At, view.ReplyText(lib, item.Reply), why})
		}
		at := slices.IndexFunc(items, func(i visit.Item) bool { return i.ID == r.Item })
		switch {
		case r.Kind == visit.Retested:
			items, round = nil, round+1
		case r.Kind == visit.Backed && at >= 0:
			drop(items[at], "Taken back.")
			items = slices.Delete(items, at, at+1)
		case r.Kind == visit.Changed && len(r.Replies) > 0:
			changed := visit.Item{ID: visit.ItemID{Seq: r.Seq}, At: r.At, Reply: r.Replies[0]}
			if at < 0 {
				items = append(items, changed)
				break
			}
			drop(items[at], "Changed to "+view.ReplyValue(lib, r.Replies[0])+".")
			later := slices.Clone(items[at+1:])
			items = append(items[:at], changed)
			for _, item := range later {
				if slices.Contains(r.Kept, item.ID) {
					items = append(items, item)
				} else {
					drop(item, "No longer asked for after a change.")
				}
			}
		case r.Kind == visit.Answered || r.Kind == visit.Supplied:
			for n, reply := range r.Replies {
				items = append(items, visit.Item{ID: visit.ItemID{Seq: r.Seq, N: n}, At: r.At, Reply: reply})
			}
		}
	}
	return out
}

// unasked lists readings of the current round that were supplied and that no
// step took.
func unasked(v visit.Visit, lib *content.Library) []Measured {
	taken := map[string]int{}
	given := map[string][]faulttree.Reading{}
	for _, r := range v.Records {
		if r.Kind == visit.Retested {
			clear(taken)
			clear(given)
		}
		for id, readings := range r.Supply.Readings {
			if taken[id] > 0 || !slices.EqualFunc(given[id], readings, faulttree.Reading.Same) { // what waited was handed on, not read again
				given[id] = append(given[id], readings...)
			}
		}
		for _, reply := range r.Replies {
			for _, t := range reply.Readings {
				if r.Kind == visit.Supplied {
					taken[t.Quantity]++
				}
			}
		}
	}
	var out []Measured
	for _, id := range slices.Sorted(maps.Keys(given)) {
		q, known := lib.Forest.Quantities[id]
		if !known {
			q = faulttree.Quantity{ID: id, Title: id}
		}
		for _, r := range given[id][min(taken[id], len(given[id])):] {
			out = append(out, Measured{q, r})
		}
	}
	return out
}
