package load_test

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree/must"
)

// A sample visit with a mistake is left out, and the mistake told where it stands.
func TestTheSampleVisitIsRead(t *testing.T) {
	for _, c := range []struct{ text, wrong string }{
		{"tree: tingle\nreadings:\n  tingle#felt: \"yes\"\n  body-earth: 58\n", ""},
		{"tree: tinkle\nreadings: {body-earth: 58}\n", "sample.yaml:1:7: error: there is no tree tinkle"},
		{"tree: tingle\nreadings: {body-earht: 58}\n", "sample.yaml:2:12: error: body-earht is not a quantity"},
		{"tree: tingle\nreadings: {body-earth: [}\n", "sample.yaml:"},
		{"tree: tingle\n", "readings"},
		{"- tree\n", "sample.yaml:1:1: error:"},
	} {
		dir := t.TempDir()
		must.Do(t, os.CopyFS(dir, os.DirFS("../../testdata/handbook")))
		must.Do(t, os.WriteFile(filepath.Join(dir, "sample.yaml"), []byte(c.text), 0o600))
		lib := must.Have(load.Dir(t.Context(), dir))(t)
		if c.wrong == "" {
			if len(lib.Diagnostics) > 0 || lib.Sample == nil || len(lib.Sample.Given.Readings["body-earth"]) != 1 {
				t.Errorf("%q: %v, %+v", c.text, lib.Diagnostics, lib.Sample)
			}
			continue
		}
		if err := lib.Diagnostics.Err(); lib.Sample != nil || err == nil || !strings.Contains(err.Error(), c.wrong) {
			t.Errorf("%q: %v, want %q; sample %+v", c.text, err, c.wrong, lib.Sample)
		}
	}
}
