package load

import (
	"context"
	"maps"
	"strings"
	"testing"
)

// other is a second tree whose only exit leads into the tree tingle.
const other = "---\ntree: other\ntitle: Another\nsummary: Another tree.\nstart: a\nscope: [supply]\n---\n" +
	"## Act {#a}\n\n```yaml step\nact: {signal: none}\ngo: tingle#felt\n```\n"

// A walk must not begin where it could come through a document with errors,
// and may where only other documents have them.
func TestTreeErrorsFollowTheExits(t *testing.T) {
	base := archive(t, "testdata/base.txtar")
	base["trees/other.md"] = other
	for _, test := range []struct {
		name, file, old, put string
		tingle, other        int
	}{
		{"nothing", "trees/other.md", "", "", 0, 0},
		{"the tree behind", "trees/tingle.md", "go: live, ", "go: alive, ", 1, 1},
		{"the tree before", "trees/other.md", "signal: none", "signal: nun", 0, 1},
		{"the quantities", "quantities.yaml", "unit: V DC", "unit: V", 1, 1},
		{"a card", "cards/why-live.md", "title:", "titel:", 0, 0},
	} {
		files := map[string]string{}
		maps.Copy(files, base)
		files[test.file] = strings.Replace(files[test.file], test.old, test.put, 1)
		l := FS(context.Background(), folder(files))
		if got := len(l.TreeErrors("tingle")); (got > 0) != (test.tingle > 0) {
			t.Errorf("%s: tingle has %v", test.name, l.TreeErrors("tingle"))
		}
		if got := len(l.TreeErrors("other")); (got > 0) != (test.other > 0) {
			t.Errorf("%s: other has %v", test.name, l.TreeErrors("other"))
		}
	}
}
