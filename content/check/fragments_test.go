package check

import (
	"context"
	"strings"
	"testing"

	"faultwright/content/load"
)

// What a proof finds in a step of a fragment stands in the fragment's file, and
// says where the fragment is used.
func TestAProofSaysWhereAFragmentIsUsed(t *testing.T) {
	files := base(t)
	at := strings.Index(files["trees/tingle.md"], "## Body to earth {#body}")
	end := strings.Index(files["trees/tingle.md"], "## Nothing shown")
	step := files["trees/tingle.md"][at:end]
	for _, out := range []string{"nothing", "live"} {
		step = strings.ReplaceAll(step, "go: "+out, "go: "+out+"-out")
	}
	files["fragments/read.md"] = "---\nfragment: read\ntitle: Read\nstart: body\nexits: [nothing-out, live-out]\n" +
		"limits: {touch: {value: 30 V, source: a-table}}\n---\n" + strings.Replace(step, "{v: {below: touch}", "{v: {below: 0 V}", 1)
	use := "## Body to earth {#body}\n\n```yaml step\nuse: {fragment: read, exits: {nothing-out: nothing, live-out: live}}\n```\n\n"
	files["trees/tingle.md"] = files["trees/tingle.md"][:at] + use + files["trees/tingle.md"][end:]
	for _, d := range Library(context.Background(), load.FS(context.Background(), folder(files))) {
		if d.Rule != "coverage-gap" {
			continue
		}
		if d.Pos.String() != "fragments/read.md:8:1" || len(d.Related) != 1 || d.Related[0].Pos.File != "trees/tingle.md" || !strings.Contains(d.Hint, "used at "+d.Related[0].Pos.String()) {
			t.Errorf("%v, related %v", d, d.Related)
		}
		return
	}
	t.Error("the gap in the fragment is not found")
}
