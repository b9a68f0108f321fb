package prove

import (
	"context"
	"fmt"
	"slices"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/source"
)

func TestCancelled(t *testing.T) {
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	got := Forest(ctx, forest(sound()), known())
	if n := countRule(got, ruleProofIncomplete); n != 1 || !got.HasErrors() {
		t.Errorf("a cancelled proof must say so once, as an error; got %v", got)
	}
}

func countRule(l source.List, rule string) (n int) {
	for _, d := range l {
		if d.Rule == rule {
			n++
		}
	}
	return n
}

// TestBrokenTrees proves forests that a reader left half done.
func TestBrokenTrees(t *testing.T) {
	ctx := context.Background()
	if got := Forest(ctx, nil, Known{}); got != nil {
		t.Errorf("no forest: %v", got)
	}
	f := &faulttree.Forest{Trees: map[string]*faulttree.Tree{
		"nil":   nil,
		"empty": {ID: "empty"},
		"holes": {ID: "holes", Start: "nowhere", Danger: map[string]string{"body-earth": "no-such-limit"}, Steps: []*faulttree.Step{
			nil,
			{ID: "no-kind"},
			{ID: "nothing-measured", Kind: faulttree.KindMeasure},
			{ID: "unknown-quantity", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v"}}, Branches: make([]faulttree.Branch, 2)},
			{ID: "wild-bound", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: bodyEarth}},
				Branches: []faulttree.Branch{{Bounds: []faulttree.Bound{{Var: 7}, {Var: -1}}}}},
			{ID: "wild-term", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: bodyEarth}},
				Derive: []faulttree.Derived{{Name: "d", Terms: []faulttree.Term{{Factor: 1, Var: 3}}}}},
			{ID: "no-terms", Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: bodyEarth}},
				Derive: []faulttree.Derived{{Name: "d"}}, Branches: make([]faulttree.Branch, 1)},
			{ID: "recheck-circle", Kind: faulttree.KindAct, Recheck: 1, Then: faulttree.Exit{Text: "recheck-circle", To: faulttree.Ref{Tree: "holes", Step: "recheck-circle"}},
				Act: faulttree.Act{Exit: faulttree.Exit{Text: "nowhere", Signal: faulttree.Danger}}},
			{ID: "danger", Kind: faulttree.KindFinding, Finding: faulttree.Finding{Signal: faulttree.Danger}},
		}},
	}}
	got := Forest(ctx, f, Known{})
	if countRule(got, ruleUnreachable) > 0 {
		t.Errorf("a tree without a start says nothing of reach: %v", got)
	}
	if countRule(got, ruleEndless) != 1 || countRule(got, ruleDangerFirst) != 1 {
		t.Errorf("what is whole is still proved: %v", got)
	}
}

// TestPlaces asks that diagnostics stand at the branch they are about, and
// name the other place.
func TestPlaces(t *testing.T) {
	tree := sound()
	at(tree, "body").Branches[1].Bounds[0].Span.Below = 31 * volt
	numbered(tree)
	for _, d := range Forest(context.Background(), forest(tree), known()) {
		if d.Rule != ruleOverlap {
			continue
		}
		if want := "trees/body.md:403:5: error: branch 2 (to shift) and branch 3 (to stop) both take 30 V on body-earth"; d.String() != want {
			t.Errorf("got  %s\nwant %s", d, want)
		}
		if len(d.Related) != 1 || d.Related[0].Pos.Line != 402 {
			t.Errorf("the first branch is not named: %v", d.Related)
		}
		return
	}
	t.Error("the overlap was not found")
}

// TestAnotherTree follows exits between trees.
func TestAnotherTree(t *testing.T) {
	first, second := sound(), &faulttree.Tree{ID: "half", Start: "look"}
	second.Steps = []*faulttree.Step{
		act("look", faulttree.Exit{Text: "body#body", To: faulttree.Ref{Tree: "body", Step: "body"}}),
		act("back", faulttree.Exit{Text: "look", To: faulttree.Ref{Tree: "half", Step: "look"}}),
	}
	ask(first, faulttree.Exit{Text: "half#back", To: faulttree.Ref{Tree: "half", Step: "back"}})
	for _, s := range second.Steps {
		s.Tree = "half"
	}
	got := Forest(context.Background(), forest(first, second), known())
	if countRule(got, ruleUnreachable) != 0 {
		t.Errorf("half#back is reached from body: %v", got)
	}
	if countRule(got, ruleBodyEarth) != 1 || !strings.Contains(fmt.Sprint(got), "by look, body") {
		t.Errorf("a walk begun in half reads the body without the spike; got %v", got)
	}
}

// largeTree is n steps: readings in a row, each with a way to a finding.
func largeTree(n int) *faulttree.Tree {
	t := sound()
	at(t, "felt").Choices[0].Exit = to("row0", none)
	for i := range n - len(t.Steps) {
		next := to(fmt.Sprint("row", i+1), none)
		if i == n-len(sound().Steps)-1 {
			next = to("spike", none)
		}
		s := measure(fmt.Sprint("row", i), pedestalL1N, to("unproved", warning), to("unproved", warning),
			branch(span(0, 5*volt), to("unproved", warning)), branch(span(5*volt, 30*volt), to("ready", warning)), branch(span(30*volt, 110*volt), next), branch(span(110*volt, 0), next))
		if i%10 == 0 {
			s.Measure = []faulttree.Variable{{Name: "a", Quantity: pedestalL1N}, {Name: "b", Quantity: pedestalL2N}}
			s.Derive = []faulttree.Derived{{Name: "sum", Terms: []faulttree.Term{{Factor: 1, Var: 0}, {Factor: 1, Var: 1}}}}
			for k := range s.Branches {
				s.Branches[k].Bounds[0].Var = 2
			}
		}
		add(t, s)
	}
	return t
}

// TestLongWalk proves a walk of 5,000 steps in a row: no recursion over it.
func TestLongWalk(t *testing.T) {
	tree := largeTree(5000)
	if got := Forest(context.Background(), forest(tree), known()); len(got) > 0 || len(tree.Steps) != 5000 {
		t.Errorf("%d steps: %v", len(tree.Steps), got[:min(3, len(got))])
	}
}

func BenchmarkForest5000(b *testing.B) {
	f := forest(largeTree(5000))
	for b.Loop() {
		if got := Forest(context.Background(), f, known()); len(got) > 0 {
			b.Fatal(got[0])
		}
	}
}

// What a handbook forgets to say never lets a reading of the body pass with a
// spike that nothing proved.
func TestAForgottenSpikeIsNotTried(t *testing.T) {
	unproved := pedestalEarth
	unproved.Proves = 0
	for name, forget := range map[string]func(*faulttree.Forest){
		"which reading proves the spike": func(f *faulttree.Forest) {
			f.Quantities, f.Trees["body"].Step("spike").Measure[0].Quantity = nil, unproved
		},
		"which point is touched": func(f *faulttree.Forest) {
			f.Touch = faulttree.Touch{}
			f.Trees["body"].Step("ready").Act.Exit = to("body", faulttree.Notice)
		},
		"either": func(f *faulttree.Forest) {
			f.Touch, f.Quantities, f.Trees["body"].Step("spike").Measure[0].Quantity = faulttree.Touch{}, nil, unproved
			f.Trees["body"].Step("body").Measure[0].Quantity.Exposure = faulttree.AtBody
		},
	} {
		f := forest(sound())
		forget(f)
		if !slices.ContainsFunc(Forest(context.Background(), f, known()), func(d source.Diagnostic) bool { return d.Rule == ruleBodyEarth }) {
			t.Errorf("a handbook that does not say %s: the body is read with a spike that nothing proved", name)
		}
	}
}
