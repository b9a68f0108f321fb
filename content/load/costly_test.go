package load

import (
	"context"
	"io/fs"
	"strings"
	"testing"
	"testing/fstest"

	"faultwright/content"
	"faultwright/content/document"
)

// shippedWith is the shipped handbook with a text put below the first heading of
// its longest tree.
func shippedWith(t *testing.T, text string) *content.Library {
	t.Helper()
	files := fstest.MapFS{}
	err := fs.WalkDir(content.ShippedFiles(), ".", func(name string, d fs.DirEntry, err error) error {
		if err != nil || d.IsDir() {
			return err
		}
		data, err := fs.ReadFile(content.ShippedFiles(), name)
		files[name] = &fstest.MapFile{Data: data}
		return err
	})
	if err != nil {
		t.Fatal(err)
	}
	const longest = "trees/half-dead.md"
	before, after, ok := strings.Cut(string(files[longest].Data), "}\n\n")
	if !ok {
		t.Fatalf("%s has no heading", longest)
	}
	files[longest].Data = []byte(before + "}\n\n" + text + "\n\n" + after)
	return FS(context.Background(), files)
}

// One angle bracket is a letter like others, however long the tree.
func TestAngleBracketIsALetter(t *testing.T) {
	l := shippedWith(t, "If L1 < L2, go on.")
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	if n := len(l.Forest.Trees["half-dead"].Steps); n < 30 {
		t.Errorf("the tree has %d steps", n)
	}
}

// Text that costs too much is one error, at its own place: nothing else of the
// tree is missing for it.
func TestCostlyTextIsOneError(t *testing.T) {
	for rule, text := range map[string]string{
		RuleWork:             strings.Repeat("[a](", 4000),
		document.RuleNesting: strings.Repeat("> ", 100) + "deep",
	} {
		l := shippedWith(t, text)
		if len(l.Diagnostics) != 1 || l.Diagnostics[0].Rule != rule || l.Diagnostics[0].Pos.Line > 60 {
			t.Errorf("%s: %v", rule, l.Diagnostics)
		}
	}
}
