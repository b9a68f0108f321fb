package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// A chart that is known is passed between two answers, and the trail tells it.
func TestAKnownChartIsPassedAndTold(t *testing.T) {
	dir := t.TempDir()
	must.Do(t, os.CopyFS(dir, os.DirFS("../testdata/handbook")))
	file := filepath.Join(dir, "trees", "tingle.md")
	text := must.Have(os.ReadFile(file))(t)
	const straight = "go: body-earth, signal: none, label: go on}"
	if !strings.Contains(string(text), straight) {
		t.Fatal("the tree has no branch to put a chart into")
	}
	changed := strings.Replace(string(text), straight, "go: outlet-again, signal: none, label: go on}", 1) + `
## The outlet, once more {#outlet-again}

| v | it is |
| --- | --- |
| below 110 V | body-earth, notice |
| rest | body-earth |

` + "```yaml step" + `
chart: {v: meter.known-source}
sources: [common-practice]
not-possible: {go: body-earth, signal: warning}
` + "```\n"
	must.Do(t, os.WriteFile(file, []byte(changed), 0o600))
	w := open(t, wide, folder(dir))
	w.Press("A tingle")
	w.Pick("2")
	w.Type("119.8")
	w.Press("Take this reading")
	if at := w.session.Visit().Walk().At().Step; at != "body-earth" {
		t.Fatalf("the walk stands at %s; the page shows\n%s", at, w.Text())
	}
	w.Want("119.8 V", "Known by then: 1 conclusion")
	if page := w.Text(); strings.Contains(page, "The outlet, once more") {
		t.Errorf("the chart is not folded:\n%s", page)
	}
	w.Press("Known by then: 1 conclusion")
	w.Want("Known by then: The outlet, once more → ")
}
