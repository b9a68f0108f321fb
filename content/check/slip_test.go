package check

import (
	"context"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/faulttree/source"
)

// A slip of an author is told once, where it stands, and sound steps and other
// files are not blamed for what follows from it.
func TestASlipIsToldOnce(t *testing.T) {
	for name, c := range map[string]struct{ file, find, put string }{
		"an act without a signal":              {"trees/body-voltage.md", "act: {set: [unplugged], signal: warning}", "act: {set: [unplugged]}"},
		"an act that others come from":         {"trees/trips.md", "act: {set: [unplugged], signal: none}", "act: {set: [unplugged]}"},
		"half a unit":                          {"quantities.yaml", `{id: "battery.pos-neg", title: "Battery: positive to negative post", unit: V DC`, `{id: "battery.pos-neg", title: "Battery: positive to negative post", unit: V`},
		"a limit that is only a number":        {"trees/twelve-volt.md", "drop: {value: 0.36 V, source: circuit-arithmetic}", "drop: 0.36 V"},
		"a danger limit that is only a number": {"trees/body-voltage.md", "touch: {value: 30 V, source: navedtra-14097}", "touch: 30 V"},
	} {
		t.Run(name, func(t *testing.T) {
			files := fstest.MapFS{}
			line := 0
			err := fs.WalkDir(content.ShippedFiles(), ".", func(path string, e fs.DirEntry, err error) error {
				if err != nil || e.IsDir() {
					return err
				}
				text, err := fs.ReadFile(content.ShippedFiles(), path)
				if at := strings.Index(string(text), c.find); path == c.file && at >= 0 {
					text = []byte(strings.Replace(string(text), c.find, c.put, 1))
					line = source.NewFile(path, text).Pos(at).Line
				}
				files[path] = &fstest.MapFile{Data: text}
				return err
			})
			if err != nil || line == 0 {
				t.Fatalf("%s has no %q; %v", c.file, c.find, err)
			}
			told := 0
			for _, d := range Library(context.Background(), load.FS(context.Background(), files)) {
				switch {
				case d.Severity != source.Error:
				case d.Pos.File == c.file && d.Pos.Line == line:
					told++
				default:
					t.Errorf("a consequence is told as well: %v", d)
				}
			}
			if told != 1 {
				t.Errorf("it is told %d times at %s:%d", told, c.file, line)
			}
		})
	}
}
