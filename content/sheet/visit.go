package sheet

import (
	"maps"
	"slices"
	"strings"
	"time"

	"faultwright/content"
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
			aside = append(aside, Aside{At: s.Item.At, What: replyWords(s.Item.Reply, lib), Why: s.Why})
		}
		if i == len(rounds)-1 {
			in.Walk, in.Aside, in.Again, in.Began = p.Walk, aside, i > 0, p.Round.Began
			continue
		}
		in.Before = append(in.Before, Round{Began: p.Round.Began, Walk: p.Walk, Aside: aside})
	}
	for _, d := range v.Damage {
		in.Aside = append(in.Aside, Aside{At: v.Last(), What: "Part of the record can not be trusted", Why: d.String() + "."})
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
			out[round] = append(out[round], Aside{r.At, replyWords(item.Reply, lib), why})
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
			drop(items[at], "Changed to "+answerWords(r.Replies[0], lib)+".")
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
			given[id] = append(given[id], readings...)
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

// replyWords names the step of a reply and what was answered.
func replyWords(r visit.Reply, lib *content.Library) string {
	name := r.Step.String()
	if s := lib.Forest.Step(r.Step); s != nil {
		name = s.Title
	}
	return name + ": " + answerWords(r, lib)
}

func answerWords(r visit.Reply, lib *content.Library) string {
	if len(r.Readings) == 0 {
		if r.Choice == "" {
			return "done"
		}
		return choiceWords(lib.Forest.Step(r.Step), r.Choice)
	}
	var words []string
	for _, t := range r.Readings {
		shown := t.Reading.Show(t.Unit)
		if len(r.Readings) > 1 {
			shown = t.Quantity + " " + shown
		}
		words = append(words, shown)
	}
	return strings.Join(words, ", ")
}

// choiceWords is a choice as the step put it, or its id where the step no
// longer offers it.
func choiceWords(s *faulttree.Step, id string) string {
	if s != nil {
		for _, c := range s.Choices {
			if c.ID == id {
				return c.Text
			}
		}
	}
	return id
}
