package view

import (
	"strings"

	"faultwright/content"
	"faultwright/faulttree"
)

// Given is a figure given beside a walk, on a sheet of readings, that reaches a
// danger limit and that no step of the walk has taken. Where none asks for it, what
// is to be done at once is told with it.
type Given struct {
	Text string // "Body to earth, 58 V, reaches the danger limit of 30 V. …"
	Walk Link   // the walk that judges it; the zero Link where that is this one
	Step string // the step there that takes it, as tree#step

	Quantity string // its id
	Typed    string // as it was typed
}

// GivenOf lists them, what hurts first first. It stands above everything that is
// still asked.
func GivenOf(lib *content.Library, w faulttree.Walk) []Given {
	var out []Given
	for _, r := range w.Reached() {
		g := Given{Text: r.String() + ".", Quantity: r.Quantity.ID, Typed: r.Reading.Text}
		t := lib.Forest.Trees[r.Tree]
		if title, do, ok := atOnce(lib, r); ok {
			g.Text = strings.Join(append([]string{g.Text, Sentence(title)}, do[:min(1, len(do))]...), " ")
		}
		if r.Tree != w.Tree() {
			g.Walk = Link{KindTree, t.ID, t.Title}
			g.Text += " This walk does not judge that, another does: begin there first."
			if s, ok := t.DangerStep(r.Quantity.ID); ok {
				g.Step = s.String()
			}
		}
		out = append(out, g)
	}
	return out
}

// atOnce is the title of the step that says what to do at once about a figure that no step
// asks for, and what it says; false where a step takes it.
func atOnce(lib *content.Library, r faulttree.Reached) (title string, do []string, ok bool) {
	t := lib.Forest.Trees[r.Tree]
	if t.AtOnce[r.Quantity.ID] == "" {
		return "", nil, false
	}
	at, _ := t.DangerStep(r.Quantity.ID)
	return stepTitle(lib, at), items(lib.Prose[at]), true
}
