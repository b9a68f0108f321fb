package load

import (
	"context"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/faulttree"
)

// withTests is the base handbook with a test for each place of its fault, and
// what the file of the tree tingle holds.
func withTests(t *testing.T, findings map[string][]faulttree.NotExcluded, edit func(files map[string]string)) *content.Library {
	t.Helper()
	files := archive(t, "testdata/base.txtar")
	files["faults/lost-ground.md"] = strings.Replace(files["faults/lost-ground.md"], "sources:",
		"test:\n  supply: {what: A loop test, by: an electrician}\n  cord: {what: Ohms of the cord.}\nsources:", 1)
	files[RemainingFile("tingle")] = string(FormatRemaining("tingle", findings))
	if edit != nil {
		edit(files)
	}
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	return l
}

// excluded is what the findings of the tree tingle cannot exclude, place and test.
func excluded(l *content.Library) map[string][]string {
	out := map[string][]string{}
	for _, s := range l.Forest.Trees["tingle"].Steps {
		for _, n := range s.Finding.CannotExclude {
			words := n.At().String() + ": " + n.Test
			if n.Seldom {
				words += " (seldom)"
			}
			out[s.ID] = append(out[s.ID], words)
		}
	}
	return out
}

// ground is the fault of the base handbook in a place.
func ground(place faulttree.Place) faulttree.NotExcluded {
	return faulttree.NotExcluded{Fault: "lost-ground", Place: place}
}

// What is written is read again, sorted, with the test of each place; a finding
// whose author speaks of the fault, or that names it, has it once.
func TestRemainingIsReadAsItIsWritten(t *testing.T) {
	supply := ground(faulttree.Supply)
	supply.Seldom = true
	l := withTests(t, map[string][]faulttree.NotExcluded{
		"nothing": {supply, ground(faulttree.Cord)},
		"live":    {supply, ground(faulttree.Cord)},
	}, nil)
	want := map[string][]string{
		"nothing": {"lost-ground@cord: Ohms of the cord.", "lost-ground@supply: A loop test, by an electrician. (seldom)"},
		"live":    {"lost-ground: Continuity of the cord, unplugged."}, // which the author wrote, though the finding names it
	}
	if diff := cmp.Diff(want, excluded(l)); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// The author's line outranks what was computed in the same place, and leaves
// other places alone.
func TestTheAuthorOutranksWhatIsComputed(t *testing.T) {
	l := withTests(t, map[string][]faulttree.NotExcluded{"nothing": {ground(faulttree.Supply), ground(faulttree.Cord)}}, func(files map[string]string) {
		files["trees/tingle.md"] = strings.Replace(files["trees/tingle.md"], "repair_by: nobody}",
			`repair_by: nobody, cannot_exclude: [{fault: lost-ground, place: cord, test: "A look at it."}]}`, 1)
	})
	want := []string{"lost-ground@cord: A look at it.", "lost-ground@supply: A loop test, by an electrician."}
	if diff := cmp.Diff(want, excluded(l)["nothing"]); diff != "" {
		t.Errorf("want (-) and got (+) differ:\n%s", diff)
	}
}

// That nothing remains is written, and read: the finding was looked at.
func TestNothingRemains(t *testing.T) {
	l := withTests(t, map[string][]faulttree.NotExcluded{"nothing": nil}, nil)
	if got := excluded(l)["nothing"]; len(got) > 0 || !l.Remaining[faulttree.Ref{Tree: "tingle", Step: "nothing"}] || len(l.Remaining) != 1 {
		t.Errorf("%v remain; looked at: %v", got, l.Remaining)
	}
}
