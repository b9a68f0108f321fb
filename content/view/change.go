package view

import (
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
)

// Change is what a different answer to an earlier step would do.
type Change struct {
	Stand   []Past // later answers that still fit
	Dropped []Past // later answers that would be dropped
	Same    bool   // the new answer is the old one
}

// ChangeOf tries answer a for entry i of w, without doing it.
func ChangeOf(lib *content.Library, w faulttree.Walk, i int, a faulttree.Answer) (Change, error) {
	next, dropped, err := w.Change(i, a)
	if err != nil {
		return Change{}, err
	}
	c := Change{Same: w.Trail()[i].Answer.Same(a)}
	for j, e := range next.Trail() {
		if j > i {
			c.Stand = append(c.Stand, PastOf(lib, next, j, e))
		}
	}
	for _, e := range dropped {
		c.Dropped = append(c.Dropped, PastOf(lib, w, 0, e))
	}
	return c, nil
}

// Sentence says what the change does to the answers after it.
func (c Change) Sentence() string {
	switch {
	case len(c.Stand) == 0 && len(c.Dropped) == 0:
		return "No later answers are touched."
	case len(c.Dropped) == 0:
		return "Every later answer still stands: " + titles(c.Stand) + "."
	case len(c.Stand) == 0:
		return "These later answers no longer fit and will be dropped: " + titles(c.Dropped) + "."
	}
	return "These later answers no longer fit and will be dropped: " + titles(c.Dropped) + ". These still stand: " + titles(c.Stand) + "."
}

func titles(all []Past) string {
	var out []string
	for _, p := range all {
		t := p.Title
		if p.Short != "" {
			t += " (" + p.Short + ")"
		}
		out = append(out, t)
	}
	return strings.Join(out, "; ")
}

// VisitState words how a visit stands in the handbook in use: what its walk and
// each test after repair ended in, and how much they read. It says whether the
// last of them has ended.
func VisitState(lib *content.Library, v visit.Visit) (text string, ended bool) {
	rounds := v.Replay(lib.Forest)
	last := rounds[len(rounds)-1]
	if last.Err != nil {
		return "The handbook in use cannot go on with it: " + Sentence(last.Err.Error()), true
	}
	var said []string
	for i, p := range rounds {
		said = append(said, roundState(lib, p, i > 0))
	}
	switch n := len(last.Lapsed()); n {
	case 0:
	case 1:
		said = append(said, "1 answer no longer fits this handbook and is kept aside.")
	default:
		said = append(said, Count(n, "answer")+" no longer fit this handbook and are kept aside.")
	}
	return strings.Join(said, " "), last.Walk.Ended()
}

func roundState(lib *content.Library, p visit.Played, again bool) string {
	v, ended := FindingOf(lib, p.Walk)
	read := Capital(ReadingsTaken(p.Walk)) + "."
	switch {
	case ended && again:
		return "Test after repair: " + Sentence(v.Headline()) + " " + read
	case ended:
		return Sentence(v.Headline()) + " " + read
	case again && p.Walk.Readings() == 0:
		return "Test after repair: begun, nothing has been read again yet."
	case again:
		return "Test after repair: begun, " + ReadingsTaken(p.Walk) + " taken again."
	}
	return "Unfinished. " + read
}
