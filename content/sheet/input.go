package sheet

import (
	"cmp"
	"fmt"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// Input is everything a sheet is made from. Only Walk must be set.
type Input struct {
	ID      string // of the visit
	Site    string // in the reader's words, like Vehicle and Note
	Vehicle string
	Note    string
	Started time.Time
	Printed time.Time

	Walk    faulttree.Walk // the current walk; after a repair, the test
	Aside   []Aside        // answers of it that no longer count
	Unasked []Measured     // readings given that no step of it asked for
	Again   bool           // Walk is a test after repair
	Began   time.Time      // of the test after repair

	Untested time.Time // when a test after repair was begun in which nothing has been read yet

	Before []Round // earlier walks of the same visit, oldest first

	Fits *view.Suspects // what fits the readings of Walk; nil where that was not worked out
}

// Round is an earlier walk of a visit.
type Round struct {
	Began time.Time
	Walk  faulttree.Walk
	Aside []Aside
}

// Measured is a reading of a quantity.
type Measured struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading
}

// Aside is an answer that was given and does not count any more: taken back,
// changed, or no longer asked for.
type Aside struct {
	At   time.Time
	What string // "Body to the earth spike: 58 V"
	Why  string // "Taken back."
}

// stamp is how the sheet writes a time.
const stamp = "2 January 2006, 15:04"

func when(t time.Time) string {
	if t.IsZero() {
		return ""
	}
	return t.Format(stamp)
}

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

// FileName is what the file of a sheet is called, without its ending: vehicle,
// date and time, finding. A test after repair has another name than the finding
// before it, so that neither takes the other's place. Whatever the vehicle is
// called, the name is one name on every system: letters, digits and "-_" only.
func FileName(in Input, lib *content.Library) string {
	v := findingOf(lib, in.Walk)
	vehicle, at, what := slug(in.Vehicle, 60), in.Started, "not-finished"
	vehicle = cmp.Or(vehicle, "vehicle")
	if v.Ended {
		what = slug(v.Title, 80)
	}
	if in.Again {
		at, what = in.Began, "after-repair-"+what
		if n := len(in.Before); n > 1 {
			what = fmt.Sprintf("after-repair-%d-%s", n, strings.TrimPrefix(what, "after-repair-"))
		}
	}
	return vehicle + "_" + at.Format("2006-01-02-1504") + "_" + what
}

// slug keeps the letters and digits of a text, in small letters, with one "-"
// for all that stands between them, and at most so many bytes.
func slug(text string, most int) string {
	var b strings.Builder
	gap := false
	for _, r := range text {
		if r == utf8.RuneError || !unicode.IsLetter(r) && !unicode.IsDigit(r) {
			gap = b.Len() > 0
			continue
		}
		r = unicode.ToLower(r)
		if b.Len()+1+utf8.RuneLen(r) > most {
			break
		}
		if gap {
			b.WriteByte('-')
			gap = false
		}
		b.WriteRune(r)
	}
	return b.String()
}
