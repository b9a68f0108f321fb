package load

import (
	"context"
	"fmt"
	"maps"
	"path/filepath"
	"regexp"
	"slices"
	"sort"
	"strings"
	"testing"
	"testing/fstest"

	"github.com/google/go-cmp/cmp"
	"github.com/rogpeppe/go-internal/txtar"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
)

// archive is the files of a txtar file.
func archive(t testing.TB, name string) map[string]string {
	t.Helper()
	a := must.Have(txtar.ParseFile(name))(t)
	files := map[string]string{}
	for _, f := range a.Files {
		files[f.Name] = string(f.Data)
	}
	return files
}

// folder makes a file system of files.
func folder(files map[string]string) fstest.MapFS {
	out := fstest.MapFS{}
	for name, text := range files {
		out[name] = &fstest.MapFile{Data: []byte(text)}
	}
	return out
}

var markForm = regexp.MustCompile(`⟦([a-z-]+)⟧`)

// unmark takes the marks ⟦rule⟧ out of a file and says where they stood, as
// "file:line:column rule".
func unmark(name, text string) (plain string, want []string) {
	for {
		at := markForm.FindStringSubmatchIndex(text)
		if at == nil {
			return text, want
		}
		rule := text[at[2]:at[3]]
		text = text[:at[0]] + text[at[1]:]
		pos := source.NewFile(name, []byte(text)).Pos(at[0])
		want = append(want, fmt.Sprintf("%s %s", pos, rule))
	}
}

// loadCase loads the base handbook with the files of a case laid over it.
// Want is what the marks in the files, and the lines of the file "want",
// expect; says is the lines of the file "says".
func loadCase(t testing.TB, name string) (l *content.Library, want, says []string) {
	files := archive(t, "testdata/base.txtar")
	for file, text := range archive(t, name) {
		switch file {
		case "want":
			want = append(want, strings.Split(strings.TrimSpace(text), "\n")...)
		case "says":
			says = strings.Split(strings.TrimSpace(text), "\n")
		case "remove":
			for _, gone := range strings.Fields(text) {
				delete(files, gone)
			}
		default:
			plain, marks := unmark(file, text)
			files[file] = plain
			want = append(want, marks...)
		}
	}
	sort.Strings(want)
	return FS(context.Background(), folder(files)), want, says
}

func mistakes(t testing.TB) []string {
	names, err := filepath.Glob("testdata/mistakes/*.txtar")
	if err != nil || len(names) == 0 {
		t.Fatalf("no cases: %v", err)
	}
	return names
}

// Every mistake is reported at its mark, under its rule, and nothing else is.
func TestMistakesAreFoundWhereTheyStand(t *testing.T) {
	for _, name := range mistakes(t) {
		t.Run(strings.TrimSuffix(filepath.Base(name), ".txtar"), func(t *testing.T) {
			l, want, says := loadCase(t, name)
			var got []string
			var all strings.Builder
			for _, d := range l.Diagnostics {
				got = append(got, fmt.Sprintf("%s %s", d.Pos, d.Rule))
				fmt.Fprintln(&all, d)
			}
			sort.Strings(got)
			if diff := cmp.Diff(want, got); diff != "" {
				t.Errorf("want (-) and got (+) differ:\n%s\n%s", diff, &all)
			}
			for _, line := range says {
				if !strings.Contains(all.String(), line) {
					t.Errorf("nothing says %q in\n%s", line, &all)
				}
			}
		})
	}
}

// Each rule has a case here, or one among the hostile folders.
func TestEveryRuleHasACase(t *testing.T) {
	seen := map[string]bool{}
	for _, name := range mistakes(t) {
		_, want, _ := loadCase(t, name)
		for _, w := range want {
			seen[w[strings.LastIndexByte(w, ' ')+1:]] = true
		}
	}
	for _, h := range hostile() {
		seen[h.rule] = true
	}
	seen[RuleCanceled] = true                 // TestCanceledLoadSaysSo
	seen[document.RuleUnknownMarkdown] = true // TestUnknownNodesKeepTheirText in package document
	for _, rule := range slices.Sorted(maps.Keys(ruleTexts(t))) {
		if !seen[rule] {
			t.Errorf("no case breaks the rule %s", rule)
		}
		delete(seen, rule)
	}
	for rule := range seen {
		t.Errorf("a case breaks %s, which is no rule", rule)
	}
}

// The base handbook is clean, so that what a case reports is its own.
func TestBaseIsClean(t *testing.T) {
	l := FS(context.Background(), folder(archive(t, "testdata/base.txtar")))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	if len(l.Forest.Trees["tingle"].Steps) != 4 || len(l.Prose) != 4 {
		t.Errorf("%d steps, %d with text; expected 4", len(l.Forest.Trees["tingle"].Steps), len(l.Prose))
	}
}
