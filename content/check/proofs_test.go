package check

import (
	"context"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/rogpeppe/go-internal/txtar"

	"faultwright/content/load"
	"faultwright/faulttree/must"
)

// A step that could not be read is not proved as well, but the sound steps of
// the same tree are.
func TestCheckProvesTheSoundStepsOfABrokenTree(t *testing.T) {
	files := base(t)
	clean := Library(context.Background(), load.FS(context.Background(), folder(files)))
	text := strings.Replace(files["trees/tingle.md"], "{below: touch}", "{below: tuch}", 1)
	text = strings.Replace(text, "  first_action: \"Stand off.\"\n", "", 1)
	files["trees/tingle.md"] = text
	l := load.FS(context.Background(), folder(files))
	count := map[string]int{}
	for _, d := range Library(context.Background(), l) {
		count[d.Rule]++
	}
	for _, d := range clean {
		count[d.Rule]--
	}
	if count[load.RuleUnknownLimit] != 1 || count["coverage-gap"] > 0 || count["step-unreachable"] > 0 {
		t.Errorf("the broken step gives %v", Library(context.Background(), l))
	}
	if count["danger-first-action"] != 1 {
		t.Errorf("the finding without a first action is not reported: %v", Library(context.Background(), l))
	}
}

// base is the files of the small handbook of the loader's tests.
func base(t *testing.T) map[string]string {
	a := must.Have(txtar.ParseFile("../load/testdata/base.txtar"))(t)
	files := map[string]string{}
	for _, f := range a.Files {
		files[f.Name] = string(f.Data)
	}
	return files
}

func folder(files map[string]string) fstest.MapFS {
	out := fstest.MapFS{}
	for name, text := range files {
		out[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}
