package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/content/view"
	"faultwright/gui/place"
)

// A weigh step is passed between two answers: the trail tells it, and its own
// page offers no walk that begins there.
func TestAWeighStepIsPassedAndTold(t *testing.T) {
	dir := t.TempDir()
	if err := os.CopyFS(dir, os.DirFS("../testdata/handbook")); err != nil {
		t.Fatal(err)
	}
	file := filepath.Join(dir, "trees", "tingle.md")
	text, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	const straight = "go: body-earth, signal: none, label: go on}"
	if !strings.Contains(string(text), straight) {
		t.Fatal("the tree has no branch to put a weigh step into")
	}
	changed := strings.Replace(string(text), straight, "go: outlet-again, signal: none, label: go on}", 1) + `
## The outlet, once more {#outlet-again}

Far below what is usual, the source itself is weak.

` + "```yaml step" + `
weigh: {v: meter.known-source}
sources: [common-practice]
branches:
  - {v: {below: 110 V}, go: body-earth, signal: notice, label: a weak source}
  - {v: {from: 110 V}, go: body-earth, signal: none, label: as usual}
over-range: {go: body-earth, signal: warning}
not-possible: {go: body-earth, signal: warning}
` + "```\n"
	if err := os.WriteFile(file, []byte(changed), 0o600); err != nil {
		t.Fatal(err)
	}
	w := open(t, wide, folder(dir))
	w.Press("A tingle")
	w.Pick("2")
	w.Type("119.8")
	w.Press("Take this reading")
	if at := w.session.Visit().Walk().At().Step; at != "body-earth" {
		t.Fatalf("the walk stands at %s; the page shows\n%s", at, w.Text())
	}
	w.Want("119.8 V", "Weighed: 1 conclusion")
	if page := w.Text(); strings.Contains(page, "The outlet, once more") {
		t.Errorf("what was weighed is not folded:\n%s", page)
	}
	w.Press("Weighed: 1 conclusion")
	w.Want("Weighed: The outlet, once more → as usual")
	w.Go(place.Document(view.KindStep, "tingle#outlet-again"))
	w.Want("A comparison of readings", "the source itself is weak", "Begin the walk at its start")
	if page := w.Text(); strings.Contains(page, "Begin a walk here") {
		t.Errorf("a walk is offered to begin there:\n%s", page)
	}
}
