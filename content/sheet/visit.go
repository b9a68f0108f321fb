package sheet

import (
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// FromVisit walks a recorded visit again over the library's trees and gathers
// what its sheet is made from. Answers that were taken back, changed, or that
// the handbook no longer takes are kept as such. A test after repair in which
// nothing has been read yet does not take the place of the walk before it.
func FromVisit(v visit.Visit, lib *content.Library, now time.Time) Input {
	d := v.Details()
	in := Input{ID: v.Header.ID, Site: d.Site, Vehicle: d.Vehicle, Note: d.Note, Started: v.Header.Started, Printed: now}
	rounds := v.Replay(lib.Forest)
	for n := len(rounds); n > 1 && rounds[n-1].Round.Tested() == 0; n-- {
		in.Untested, rounds = rounds[n-1].Round.Began, rounds[:n-1]
	}
	for i, p := range rounds {
		aside := setAside(p, lib)
		if i < len(rounds)-1 {
			in.Before = append(in.Before, Round{Began: p.Round.Began, Walk: p.Walk, Aside: aside})
			continue
		}
		in.Walk, in.Aside, in.Again, in.Began = p.Walk, aside, i > 0, p.Round.Began
		for _, t := range p.Round.Unasked {
			q, known := lib.Forest.Quantities[t.Quantity]
			if !known {
				q = faulttree.Quantity{ID: t.Quantity, Title: t.Quantity}
			}
			in.Unasked = append(in.Unasked, Measured{q, t.Reading})
		}
	}
	for _, d := range v.Doubts() {
		in.Aside = append(in.Aside, Aside{At: v.Last(), What: d.What, Why: d.Why})
	}
	return in
}

// setAside words the answers of a round that do not count: those taken back or
// replaced, then those that the handbook in use no longer takes.
func setAside(p visit.Played, lib *content.Library) []Aside {
	var out []Aside
	for _, u := range p.Round.Undone {
		why := "Taken back."
		switch u.How {
		case visit.Replaced:
			why = "Changed to " + view.ReplyValue(lib, u.By) + "."
		case visit.LeftBehind:
			why = "No longer asked for after a change."
		}
		out = append(out, Aside{u.When, view.ReplyText(lib, u.Reply), why})
	}
	for _, s := range p.Lapsed() {
		out = append(out, Aside{s.Item.At, view.ReplyText(lib, s.Item.Reply), s.Why})
	}
	return out
}
