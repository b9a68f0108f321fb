package load

import (
	"context"
	"maps"
	"slices"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/prove"
	"faultwright/faulttree/source"
)

// mostFuzzed bounds what a fuzz target looks at, in bytes: small inputs find the
// same slips, thousands of times as often. What size does is the matter of
// TestHostileFolders.
const mostFuzzed = 4 << 10

// Whatever stands in a tree document, reading and proving it ends without a
// panic, twice with the same result, with every diagnostic at a place that is
// there and under a rule of the tables. Cards beside it are read all the same.
func FuzzTree(f *testing.F) {
	base := archive(f, "testdata/base.txtar")
	f.Add([]byte(base["trees/tingle.md"]))
	for _, name := range mistakes(f) {
		for file, text := range archive(f, name) {
			if file == "trees/other.md" {
				plain, _ := unmark(file, text)
				f.Add([]byte(plain))
			}
		}
	}
	rules := ruleTexts(f)
	f.Fuzz(func(t *testing.T, text []byte) {
		if len(text) > mostFuzzed {
			return
		}
		files := folder(base)
		files["trees/tingle.md"].Data = text
		l := FS(context.Background(), files)
		again := FS(context.Background(), files)
		if diff := cmp.Diff(l.Diagnostics, again.Diagnostics); diff != "" {
			t.Errorf("two loads differ:\n%s", diff)
		}
		if len(l.Cards) != 1 || len(l.Faults) != 1 || len(l.Cautions) != 1 {
			t.Error("a document beside the tree is missing")
		}
		placed(t, l, rules)
		if tree := l.Forest.Trees["tingle"]; tree != nil && !l.Diagnostics.HasErrors() {
			sound(t, l, tree)
		}
		prove.Forest(context.Background(), l.Forest, prove.Known{
			Signal: func(id string) (faulttree.Signal, bool) { return faulttree.Warning, l.Cautions[id] != nil },
			Hazard: func(id string) (faulttree.Signal, bool) { return faulttree.Danger, l.Faults[id] != nil },
		})
	})
}

// placed checks that every diagnostic is at a place that is there, under a
// rule of the tables.
func placed(t *testing.T, l *content.Library, rules map[string]string) {
	for _, d := range l.Diagnostics {
		if rules[d.Rule] == "" {
			t.Errorf("no rule is called %q: %v", d.Rule, d)
		}
		file := l.Files[d.Pos.File]
		if d.Rule == RuleEncoding {
			continue // such a file is not kept
		}
		if d.Pos.IsValid() && (file == nil || d.Pos.Column < 1 || d.Pos.Column > len(file.LineText(d.Pos.Line))+1) {
			t.Errorf("there is no such place: %v", d)
		}
	}
}

// seedFrom adds the files of a folder in the base and in every mistake.
func seedFrom(f *testing.F, folder string, base map[string]string) {
	all := []map[string]string{base}
	for _, name := range mistakes(f) {
		all = append(all, archive(f, name))
	}
	for _, files := range all {
		for _, file := range slices.Sorted(maps.Keys(files)) {
			if strings.HasPrefix(file, folder) {
				plain, _ := unmark(file, files[file])
				f.Add([]byte(plain))
			}
		}
	}
}

// drop takes the files of some folders out of the base: what a target does not
// speak of only takes time.
func drop(base map[string]string, folders ...string) {
	for name := range base {
		if slices.ContainsFunc(folders, func(folder string) bool { return strings.HasPrefix(name, folder) }) {
			delete(base, name)
		}
	}
}

func copyOf(text []byte) *fstest.MapFile { return &fstest.MapFile{Data: text} }

// sound checks what the engine relies on in a tree without errors.
func sound(t *testing.T, l *content.Library, tree *faulttree.Tree) {
	if tree.Step(tree.Start) == nil {
		t.Errorf("a clean tree starts nowhere: %q", tree.Start)
	}
	for _, s := range tree.Steps {
		if s.Kind == 0 {
			t.Errorf("a clean step asks for nothing: %s", s.ID)
		}
		for _, v := range s.Measure {
			if v.Quantity.Unit == 0 {
				t.Errorf("a clean step measures without a unit: %s", s.ID)
			}
		}
		for _, e := range s.Exits() {
			if l.Forest.Step(e.To) == nil {
				t.Errorf("a clean step leads nowhere: %s to %s", s.ID, e.To)
			}
		}
		for _, b := range s.Branches {
			for _, bound := range b.Bounds {
				if bound.Span.Empty() || bound.Var < 0 || bound.Var >= len(s.Measure)+len(s.Derive) {
					t.Errorf("a clean step has the bound %+v: %s", bound, s.ID)
				}
			}
		}
	}
}

// others are the files that FuzzFile puts its text into.
var others = []string{"quantities.yaml", "openings.yaml", "synonyms.yaml", "evidence.yaml", "cards/why-live.md", "cautions/one-hand.md", "sources/a-table.md", "remaining/tingle.yaml"}

// Whatever stands in one of the lists or in a document that is no tree, reading
// it ends without a panic, twice with the same result, with every diagnostic at
// a place that is there; the tree beside it is read, and nothing hidden is in
// what a reader is shown.
func FuzzFile(f *testing.F) {
	base := archive(f, "testdata/base.txtar")
	for which, name := range others {
		f.Add(uint8(which), []byte(base[name]))
		for _, mistake := range mistakes(f) {
			if text, ok := archive(f, mistake)[name]; ok {
				plain, _ := unmark(name, text)
				f.Add(uint8(which), []byte(plain))
			}
		}
	}
	drop(base, "rigs/", "scenarios/")
	rules := ruleTexts(f)
	f.Fuzz(func(t *testing.T, which uint8, text []byte) {
		if len(text) > mostFuzzed {
			return
		}
		name := others[int(which)%len(others)]
		files := folder(base)
		files[name] = copyOf(text)
		l := FS(context.Background(), files)
		again := FS(context.Background(), files)
		if diff := cmp.Diff(l.Diagnostics, again.Diagnostics); diff != "" {
			t.Errorf("two loads differ:\n%s", diff)
		}
		placed(t, l, rules)
		if l.Forest.Trees["tingle"] == nil {
			t.Error("the tree beside it is missing")
		}
		for _, o := range l.Openings {
			if strings.ContainsFunc(o.Title+o.Text, source.Hidden) {
				t.Errorf("an opening holds what is not shown: %q", o)
			}
		}
		for _, c := range l.Cards {
			if strings.ContainsFunc(c.Title+document.Plain(c.Body), source.Hidden) {
				t.Errorf("a card holds what is not shown: %q", c.Title)
			}
		}
		for id, q := range l.Forest.Quantities {
			if id != q.ID || q.Unit == 0 {
				t.Errorf("the quantity %q is %+v", id, q)
			}
		}
	})
}
