package rig

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
)

// A leak behind a lost ground stays where only the ground is put right, and the
// other way round. A fault in another guise goes with it.
func TestPutRight(t *testing.T) {
	open := func(part string) Edit { return Edit{Kind: Open, Parts: []string{part}} }
	leak := Edit{Kind: Connect, Nodes: [2]string{"panel.l1", "body"}}
	leakage := &Fault{ID: "leak", Title: "It leaks", Variants: []Variant{{Place: faulttree.Vehicle, Edits: []Edit{leak}}}}
	dead := &Fault{ID: "dead", Variants: []Variant{{Place: faulttree.Supply, Edits: []Edit{open("tap.l1")}}}}
	ground := &Fault{ID: "ground", Title: "It is lost", Variants: []Variant{
		{Place: faulttree.Cord, Edits: []Edit{open("cord.g")}},
		{Place: faulttree.Cord, Text: "and a leak", With: []string{"leak"}, Edits: []Edit{open("cord.g"), leak}},
		{Place: faulttree.Cord, With: []string{"dead", "unknown", "leak"}, Edits: []Edit{open("tap.l1"), leak}},
		{Place: faulttree.Cord, With: []string{"leak"}, Edits: []Edit{leak}},
	}}
	for _, tt := range []struct {
		variant int
		right   string
		want    string
	}{
		{0, "", "ground@cord[] 1 edits"}, {0, "leak@vehicle", "ground@cord[] 1 edits"}, {0, "ground@cord", "nothing"}, {0, "ground@supply", "ground@cord[] 1 edits"},
		{1, "", "ground@cord[leak] 2 edits"}, {1, "ground@cord", "leak@vehicle[] 1 edits"}, {1, "leak@vehicle", "ground@cord[] 1 edits"},
		{1, "leak@cord", "ground@cord[leak] 2 edits"}, {1, "leak@vehicle ground@cord", "nothing"},
		// dead by itself does the first edit, then all that is left is the leak, which is the fault in another guise
		{2, "dead@supply", "ground@cord[unknown leak] 1 edits"}, {2, "leak@vehicle", "dead@supply[] 1 edits"}, {2, "unknown@cord", "dead@supply[] 1 edits"},
		{3, "leak@vehicle", "nothing"}, {3, "ground@cord", "nothing"}, {3, "", "ground@cord[leak] 1 edits"},
	} {
		right := func(at faulttree.FaultAt) bool { return slices.Contains(strings.Fields(tt.right), at.String()) }
		left, index := ground.PutRight(tt.variant, right, []*Fault{ground, dead, leakage})
		got := "nothing"
		if left != nil {
			v := left.Variants[index]
			got = fmt.Sprintf("%s@%s%v %d edits", left.ID, v.Place, v.With, len(v.Edits))
		}
		if got != tt.want {
			t.Errorf("variant %d, right %q: %s is left; want %s", tt.variant, tt.right, got, tt.want)
		}
	}
	if left, _ := ground.PutRight(1, func(at faulttree.FaultAt) bool { return at.Fault == "ground" }, []*Fault{leakage}); left.Title != "It leaks" || !left.Variants[0].Edits[0].like(leak) {
		t.Errorf("%+v", left)
	}
}
