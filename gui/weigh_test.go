package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
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
	d := desk(t, wide, func(o *Options) { o.ContentDir = dir })
	d.press(t, "A tingle")
	d.typeIn(t, "2")
	d.typeIn(t, "119.8")
	d.press(t, "Take this reading")
	if at := d.visit.walk().At().Step; at != "body-earth" {
		t.Fatalf("the walk stands at %s; the page shows\n%s", at, d.shown())
	}
	d.wantShown(t, "119.8 V", "Weighed: The outlet, once more → as usual")
	d.Go(Location{Page: pageStep, ID: "tingle#outlet-again"})
	d.wantShown(t, "A comparison of readings", "the source itself is weak", "Begin the walk at its start")
	if page := d.shown(); strings.Contains(page, "Begin a walk here") {
		t.Errorf("a walk is offered to begin there:\n%s", page)
	}
}
