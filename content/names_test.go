package content_test

import (
	"fmt"
	"os"
	"slices"
	"strings"
	"testing"

	pictures "faultwright/content/figure"
	"faultwright/faulttree/must"
)

// A walk has one name: what the opening view calls it stands in the title of
// the tree that it leads to.
func TestOpeningsAndTreesShareOneName(t *testing.T) {
	lib := shipped()
	leads := 0
	for _, o := range lib.Openings {
		tree := lib.Forest.Tree(o.Tree)
		if tree == nil {
			continue
		}
		leads++
		if !strings.Contains(strings.ToLower(tree.Title), strings.ToLower(o.Title)) {
			t.Errorf("the opening %q leads to a tree called %q", o.Title, tree.Title)
		}
	}
	if leads < 8 {
		t.Errorf("%d openings lead to trees; want each of the eight at least once", leads)
	}
}

// A contact has one name in words and pictures: hot where there is one, as at
// 30 A, L1 and L2 where there are two. The tree of any pedestal never says L1,
// and no picture of a receptacle with one hot does.
func TestOneNameForAHotContact(t *testing.T) {
	text := must.Have(os.ReadFile("handbook/trees/pedestal.md"))(t)
	if strings.Contains(string(text), "L1") {
		t.Error("the tree of a pedestal calls a hot contact L1")
	}
	lib := shipped()
	for id, q := range lib.Forest.Quantities {
		one := strings.Contains(q.Title, "L1") && !strings.Contains(q.Title, "hot (L1)") && !strings.Contains(q.Title, "L1 to L2") && !strings.Contains(q.Title, "L1 to the L2")
		if one {
			t.Errorf("%s is called %q; want hot (L1), as it serves a plug with one hot too", id, q.Title)
		}
		if strings.Contains(id, "l2") {
			continue
		}
		for face, wrong := range map[pictures.Face][]string{pictures.FaceTT30: {"L1", "H"}, pictures.Face14_50: {"H", "L1 (hot)"}} {
			if strings.Contains(id, "out-") {
				continue // the other face
			}
			for _, item := range pictures.Probes(q, face).Items {
				if word, ok := item.(pictures.Text); ok && slices.Contains(wrong, word.Value) {
					t.Errorf("the picture of %s on %s says %q", id, face, word.Value)
				}
			}
		}
	}
}

// What a learner is told of a vehicle before anything is measured does not say more
// than he sees: vehicles of the same facts bear one name. A headline "on a 120/208 V
// site" was the answer to the oven that takes all evening.
func TestALearnerIsToldNoSupplyBeforeItIsRead(t *testing.T) {
	told := map[string]string{}
	twice := false
	for _, r := range shipped().Rigs {
		facts := fmt.Sprint(r.Facts)
		if before, ok := told[facts]; ok {
			twice = true
			if before != r.Before() {
				t.Errorf("of vehicles that have the same facts a learner is told %q and %q", before, r.Before())
			}
		}
		told[facts] = r.Before()
	}
	if !twice {
		t.Error("no two rigs have the same facts; want the coach on both kinds of site")
	}
}
