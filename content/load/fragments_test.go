package load

import (
	"context"
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/faulttree"
	"faultwright/faulttree/prove"
)

// proof is a fragment of two steps, the first of which is a use of another one.
const (
	proof = `---
fragment: proof
title: Prove it
start: look
exits: [proved, doubtful]
limits: {half: {value: 15 V, source: a-table}}
---
## Look {#look}

Look at it first.

` + "```yaml step" + `
use: {fragment: seen, exits: {done: read}}
cards: [why-live]
` + "```" + `

## Read it {#read}

Read it now.

` + "```yaml step" + `
measure: {v: body-earth}
branches:
  - {v: {below: half}, go: proved}
  - {v: {from: half, below: touch}, go: doubtful, signal: warning}
  - {v: {from: touch}, go: tingle#live}
over-range: {go: tingle#live}
not-possible: {go: doubtful}
` + "```\n"
	seen = `---
fragment: seen
title: See it
start: see
exits: [done]
---
## See {#see}

Open your eyes.

` + "```yaml step" + `
observe:
  - {choice: yes, text: "Yes", go: done, signal: notice}
  - {choice: no, text: "No", go: see, signal: none}
recheck: 2
then: {go: done}
cautions: [one-hand]
` + "```\n"
	proved = `---
tree: other
title: Another
summary: Another tree.
start: prove
scope: [dc]
was: {look-at-it: prove.look.see, measure: prove.read, again: begin, former: prove, oldest: older, older: old, old: again}
---
## Prove it here {#prove}

Take the lamp along.

` + "```yaml step" + `
use: {fragment: proof, exits: {proved: found, doubtful: begin}}
` + "```" + `

## Begin again {#begin}

` + "```yaml step" + `
act: {signal: none}
go: prove
recheck: 2
then: {go: found}
` + "```" + `

## Found {#found}

` + "```yaml step" + `
finding: {signal: notice}
` + "```\n"
)

// withProof is the base handbook with a tree that uses fragments in it.
func withProof(t testing.TB) *content.Library {
	t.Helper()
	files := archive(t, "testdata/base.txtar")
	files["fragments/proof.md"] = strings.Replace(proof, "limits: {half", "limits: {touch: {value: 30 V, source: a-table}, half", 1)
	files["fragments/seen.md"], files["trees/other.md"] = seen, proved
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		t.Error(d)
	}
	return l
}

// A use becomes the steps of its fragment, the fragment's own uses included,
// under the id of the use; what stands beside the use comes first in them.
func TestAFragmentBecomesStepsOfItsTree(t *testing.T) {
	l := withProof(t)
	tree := l.Forest.Trees["other"]
	var got []string
	for _, s := range tree.Steps {
		line := s.ID + ":"
		for _, e := range s.Exits() {
			line += fmt.Sprintf(" %s/%s", e.To, e.Signal)
		}
		got = append(got, line)
	}
	want := []string{
		"prove.look.see: other#prove.read/notice other#prove.look.see/none other#prove.read/none",
		"prove.read: other#found/notice other#begin/warning tingle#live/danger tingle#live/danger other#begin/warning",
		"begin: other#prove.look.see/none other#found/notice",
		"found:",
	}
	if strings.Join(got, "\n") != strings.Join(want, "\n") {
		t.Errorf("the steps are\n%s\nwant\n%s", strings.Join(got, "\n"), strings.Join(want, "\n"))
	}
	if tree.Start != "prove.look.see" || tree.Limits["half"].Value != 15*faulttree.One {
		t.Errorf("the tree starts at %s with the limits %v", tree.Start, tree.Limits)
	}
	first := tree.Step("prove")
	prose := strings.Fields(document.Plain(l.Prose[first.Ref()]))
	if first.Title != "Prove it here" || strings.Join(prose, " ") != "Take the lamp along. Look at it first. Open your eyes." {
		t.Errorf("the first step is %q: %q", first.Title, prose)
	}
	if fmt.Sprint(first.Cards, first.Cautions) != "[why-live] [one-hand]" {
		t.Errorf("beside the first step stand %v and %v", first.Cards, first.Cautions)
	}
	if at := fmt.Sprint(first.Pos, first.Uses); at != "fragments/seen.md:7:1 [trees/other.md:14:1 fragments/proof.md:13:1]" {
		t.Errorf("the first step stands at %s", at)
	}
}

// The ids of steps that moved into a fragment, and of the use itself, still
// lead to them: as where a walk begins, in links, in files of readings.
func TestAnEarlierIDLeadsToItsStep(t *testing.T) {
	l := withProof(t)
	for was, now := range map[string]string{"look-at-it": "prove.look.see", "measure": "prove.read", "again": "begin", "former": "prove.look.see", "oldest": "begin", "prove": "prove.look.see", "prove.look": "prove.look.see"} {
		ref := faulttree.Ref{Tree: "other", Step: was}
		w, err := faulttree.Begin(l.Forest, ref, faulttree.Owner, faulttree.DefaultMeter())
		if err != nil || w.At().Step != now || l.Forest.Canonical(ref).Step != now {
			t.Errorf("%s leads to %s, %v; want %s", was, w.At(), err, now)
		}
	}
	supplied, diags := Readings(strings.NewReader("other#look-at-it: yes\n"), "r.yaml", l.Forest)
	if len(diags) > 0 || supplied.Choices[faulttree.Ref{Tree: "other", Step: "prove.look.see"}] != "yes" {
		t.Errorf("a choice by the earlier id gives %v, %v", supplied.Choices, diags)
	}
	if got := l.TreeErrors("other"); len(got) > 0 {
		t.Error(got)
	}
}

// However fragments use one another, reading them ends soon, with at most so
// many steps, and says where it stopped.
func TestFragmentsAreBounded(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	use := func(id, of, out string) string {
		return "## Use {#" + id + "}\n\n```yaml step\nuse: {fragment: " + of + ", exits: {out: " + out + "}}\n```\n\n"
	}
	last := "---\nfragment: f0\ntitle: Last\nstart: a0\nexits: [out]\n---\n"
	for i := range 200 {
		next := fmt.Sprintf("a%d", i+1)
		if i == 199 {
			next = "out"
		}
		last += fmt.Sprintf("## Act {#a%d}\n\n```yaml step\nact: {signal: none}\ngo: %s\n```\n\n", i, next)
	}
	files["fragments/f0.md"] = last
	for depth := 1; depth < 8; depth++ {
		text := fmt.Sprintf("---\nfragment: f%d\ntitle: More\nstart: u0\nexits: [out]\n---\n", depth)
		for i := range 60 {
			next := fmt.Sprintf("u%d", i+1)
			if i == 59 {
				next = "out"
			}
			text += use(fmt.Sprintf("u%d", i), fmt.Sprintf("f%d", depth-1), next)
		}
		files[fmt.Sprintf("fragments/f%d.md", depth)] = text
	}
	for depth := range 8 {
		files[fmt.Sprintf("trees/t%d.md", depth)] = fmt.Sprintf("---\ntree: t%d\ntitle: T\nsummary: T.\nstart: u\nscope: [dc]\n---\n", depth) + use("u", fmt.Sprintf("f%d", depth), "found") + "## Found {#found}\n\n```yaml step\nfinding: {signal: none}\n```\n"
	}
	l := FS(context.Background(), folder(files))
	if n := len(l.Forest.Trees["t0"].Steps); n != 201 {
		t.Errorf("the tree with one use has %d steps; want 201", n)
	}
	for depth := 1; depth < 8; depth++ {
		id := fmt.Sprintf("t%d", depth)
		told := false
		for _, d := range l.TreeErrors(id) {
			told = told || d.Rule == RuleTreeSize && d.Pos.File == "trees/"+id+".md"
		}
		if n := len(l.Forest.Trees[id].Steps); n > mostSteps+1 || !told {
			t.Errorf("%s has %d steps; told: %v", id, n, told)
		}
	}
}

// A fragment with very many exits is cut off, and said to be.
func TestExitsOfAFragmentAreBounded(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	var exits []string
	for i := range 2 * mostExits {
		exits = append(exits, fmt.Sprintf("e%d", i))
	}
	files["fragments/proof.md"] = strings.Replace(proof, "exits: [proved, doubtful]", "exits: ["+strings.Join(exits, ", ")+"]", 1)
	l := FS(context.Background(), folder(files))
	for _, d := range l.Diagnostics {
		if d.Rule == RuleTreeSize && d.Pos.String() == "fragments/proof.md:5:8" {
			return
		}
	}
	t.Errorf("nobody says so: %v", l.Diagnostics)
}

// A chain of very many earlier ids is cut off, and said to be.
func TestEarlierIDsAreBounded(t *testing.T) {
	files := archive(t, "testdata/base.txtar")
	var was strings.Builder
	for i := range 20 * mostSteps {
		fmt.Fprintf(&was, "  w%d: w%d\n", i, i+1)
	}
	files["trees/tingle.md"] = strings.Replace(files["trees/tingle.md"], "start: felt\n", "start: felt\nwas:\n"+was.String(), 1)
	l := FS(context.Background(), folder(files))
	if n := len(l.Forest.Trees["tingle"].Was); n != mostSteps {
		t.Errorf("%d earlier ids are read; want %d", n, mostSteps)
	}
	for _, d := range l.Diagnostics {
		if d.Rule == RuleTreeSize {
			return
		}
	}
	t.Errorf("nobody says so: %v", l.Diagnostics)
}

// Whatever stands in a fragment or a method, reading and proving the tree that
// uses them ends without a panic, twice with the same result, with every
// diagnostic at a place that is there and under a rule of the tables; a tree
// without errors is sound.
func FuzzFragment(f *testing.F) {
	base := archive(f, "testdata/base.txtar")
	base["fragments/seen.md"], base["trees/other.md"] = seen, proved
	f.Add([]byte(proof), []byte(bodyMethod))
	for _, text := range archive(f, "testdata/mistakes/fragments.txtar") {
		plain, _ := unmark("fragments/proof.md", text)
		f.Add([]byte(plain), []byte(bodyMethod))
	}
	for _, text := range archive(f, "testdata/mistakes/methods.txtar") {
		plain, _ := unmark("methods/body.md", text)
		f.Add([]byte(proof), []byte(plain))
	}
	rules := ruleTexts(f)
	f.Fuzz(func(t *testing.T, fragment, method []byte) {
		files := folder(base)
		files["fragments/proof.md"], files["methods/body.md"] = copyOf(fragment), copyOf(method)
		l := FS(context.Background(), files)
		if diff := cmp.Diff(l.Diagnostics, FS(context.Background(), files).Diagnostics); diff != "" {
			t.Errorf("two loads differ:\n%s", diff)
		}
		placed(t, l, rules)
		if tree := l.Forest.Trees["other"]; tree != nil && !l.Diagnostics.HasErrors() {
			sound(t, l, tree)
		}
		prove.Forest(context.Background(), l.Forest, prove.Known{})
	})
}
