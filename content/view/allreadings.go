package view

import (
	"fmt"
	"slices"

	"faultwright/content"
	"faultwright/faulttree"
)

// AllReadings is the page of every reading that a tree gathers first, to be
// given in any order.
type AllReadings struct {
	Title   string
	Rows    []Asking
	Given   int     // rows that hold a reading
	Stop    string  // what to do at once, if a reading reached a danger limit
	Others  []Given // readings that reach a danger limit and that no step of this walk takes
	Problem string  // why the readings cannot be used, if so
	Ahead   string  // what comes after these readings, as the end of a sentence
	Proof   string  // what this page asks of the proof of the meter, and what it does not

	Supplied faulttree.Supplied
	Walk     faulttree.Walk // as far as these readings lead
}

// Asking is one quantity of the page with what is typed for it.
type Asking struct {
	Asked
	Typed  Typed
	Danger string // the danger limit it reached, in words
}

// AllReadingsOf understands the texts typed for the quantities of w's tree, by
// quantity id, and walks as far as they lead. Every reading meets the danger
// limits of the tree first, whichever order they come in; what only another tree
// calls a danger is told.
func AllReadingsOf(lib *content.Library, w faulttree.Walk, texts map[string]string) AllReadings {
	t := lib.Forest.Tree(w.Start().Tree)
	v := AllReadings{Walk: w}
	if t == nil {
		return v
	}
	v.Title = t.Title
	supplied := faulttree.Supplied{Readings: map[string][]faulttree.Reading{}, Once: true}
	v.Supplied = supplied
	v.Proof = "This page does not ask for the proof of the meter. Prove it on a source known to be live before and after; the sheet says if that is not on record."
	if slices.Contains(t.Sheet, lib.Forest.Quantities.Proving(faulttree.ProvesVoltsAC).ID) {
		v.Proof = "The proof of the meter is read once here, before the other readings. This page does not ask for the proof after them; where the walk asks for it, take it then."
	}
	for _, id := range t.Sheet {
		q := lib.Forest.Quantities[id]
		if q.Needs.Unmet(w.Fact) {
			continue
		}
		row := Asking{Asked: AskedOf(lib, q), Typed: Read(texts[id], q, w.Meter())}
		if row.Typed.Taken {
			v.Given++
			supplied.Readings[id] = []faulttree.Reading{row.Typed.Reading}
			row.Danger = dangerText(lib, w, q, row.Typed.Reading)
		}
		v.Rows = append(v.Rows, row)
	}
	if v.Given == 0 {
		return v
	}
	next, wanted, err := w.Supply(supplied)
	if err != nil {
		v.Problem = Sentence(err.Error())
		return v
	}
	v.Walk, v.Others = next, GivenOf(lib, next)
	v.Ahead = ahead(lib, next, wanted)
	if ref, stopped := next.Stop(); stopped {
		if s := lib.Forest.Step(ref); s != nil {
			v.Stop = s.Title
		}
	} else if f, ok := next.Finding(); ok && f.Finding.Signal == faulttree.Danger {
		v.Stop = f.Title
	}
	return v
}

// ahead words what a walk wants next: a quantity, a step, a fact, or nothing more.
func ahead(lib *content.Library, w faulttree.Walk, wanted string) string {
	if wanted == "" {
		return "; they lead to a finding."
	}
	if q, ok := lib.Forest.Quantities[wanted]; ok {
		return "; wanted next: " + q.Title + "."
	}
	if s := w.Step(); s != nil {
		return "; then comes: " + Sentence(s.Title)
	}
	return "."
}

// AllReadingsOpen reports whether w may still be given its readings on one page: its
// tree gathers some first, and no reading has been taken yet.
func AllReadingsOpen(lib *content.Library, w faulttree.Walk) bool {
	t := lib.Forest.Tree(w.Start().Tree)
	if t == nil || len(t.Sheet) == 0 || w.Ended() {
		return false
	}
	return !slices.ContainsFunc(w.Trail(), func(e faulttree.Entry) bool { return len(e.Answer.Readings) > 0 })
}

// dangerText words the danger limit that a reading reaches, or is "".
func dangerText(lib *content.Library, w faulttree.Walk, q faulttree.Quantity, r faulttree.Reading) string {
	x, hurts := w.Reaches(q, r)
	if !hurts {
		return ""
	}
	text := x.Says()
	if r.Quality == faulttree.OverRange {
		text = overRange + ", which " + text
	}
	if x.Tree != w.Tree() {
		text += " in the walk “" + TreeTitle(lib, x.Tree) + "”"
	}
	return text
}

// Progress words how many readings are given.
func (v AllReadings) Progress() string {
	return fmt.Sprintf("%d of %d readings given", v.Given, len(v.Rows))
}
