package check

import (
	"context"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/source"
)

// A signal that says what its exit says anyway is noticed where it stands, and
// check has nothing against the handbook for it.
func TestASignalWrittenInVainIsNoticed(t *testing.T) {
	files := base(t)
	tree := files["trees/tingle.md"]
	lines := strings.Split(tree, "\n")
	l := load.FS(context.Background(), folder(files))
	var noticed []string
	for _, d := range Library(context.Background(), l) {
		if d.Rule != ruleImplied {
			continue
		}
		if d.Severity != source.Notice {
			t.Errorf("%v is %s; want a notice", d, d.Severity)
		}
		line := lines[d.Pos.Line-1]
		noticed = append(noticed, line[d.Pos.Column-1:])
		word := "signal: " + signalAt(line[d.Pos.Column-1:])
		lines[d.Pos.Line-1] = strings.Replace(strings.Replace(line, ", "+word, "", 1), word, "", 1)
	}
	if want := "none danger danger danger"; words(noticed) != want {
		t.Fatalf("noticed %q; want %s", noticed, want)
	}
	files["trees/tingle.md"] = strings.Join(lines, "\n")
	without := load.FS(context.Background(), folder(files))
	for _, d := range Library(context.Background(), without) {
		if d.Rule == ruleImplied {
			t.Errorf("still noticed: %v", d)
		}
	}
	for _, s := range l.Forest.Trees["tingle"].Steps {
		if got := without.Forest.Trees["tingle"].Step(s.ID).Finding.Signal; got != s.Finding.Signal {
			t.Errorf("the finding %s has the signal %s without the word, %s with it", s.ID, got, s.Finding.Signal)
		}
		for i, e := range s.Exits() {
			if got := without.Forest.Trees["tingle"].Step(s.ID).Exits()[i].Signal; got != e.Signal {
				t.Errorf("exit %d of %s has the signal %s without the word, %s with it", i+1, s.ID, got, e.Signal)
			}
		}
	}
}

// signalAt is the word a text begins with.
func signalAt(text string) string {
	word, _, _ := strings.Cut(text, ",")
	word, _, _ = strings.Cut(word, "}")
	return word
}

// words is what each text begins with.
func words(texts []string) string {
	out := lists.Each(texts, signalAt)
	return strings.Join(out, " ")
}
