package rig

import (
	"testing"

	"faultwright/faulttree"
)

// What comes along sits where its own document knows the same edit: a ground that is
// open ahead of a wet cord is the supply's.
func TestWhatComesAlongSitsWhereItIsMade(t *testing.T) {
	open := func(part string) Edit { return Edit{Kind: Open, Parts: []string{part}} }
	leak := Edit{Kind: Connect, Nodes: [2]string{"cord.l1", "cord.g"}}
	ground := &Fault{ID: "open-ground", Variants: []Variant{
		{Place: faulttree.Cord, Edits: []Edit{open("cord.g")}},
		{Place: faulttree.Supply, With: []string{"leak"}, Edits: []Edit{open("tap.g"), leak}},
		{Place: faulttree.Supply, Edits: []Edit{open("tap.g")}},
	}}
	for _, c := range []struct {
		edits []Edit
		want  faulttree.Place
	}{
		{[]Edit{leak, open("tap.g")}, faulttree.Supply},
		{[]Edit{leak, open("cord.g")}, faulttree.Cord},
		{[]Edit{leak, open("elsewhere")}, faulttree.Cord}, // no edit of its own: beside the other
	} {
		if got := ground.Along(Variant{Place: faulttree.Cord, Edits: c.edits}); got != c.want {
			t.Errorf("beside %v it sits in %s; want %s", c.edits, got, c.want)
		}
	}
}
