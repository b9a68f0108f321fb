package view

import (
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
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
