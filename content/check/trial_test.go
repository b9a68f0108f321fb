package check

import (
	"context"
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/source"
	"faultwright/faulttree/trial"
)

// Two thousand drawn vehicles down every tree: no all-clear is false, and a
// sound vehicle is found so (at least 95 in 100).
func TestNoShippedTreeClearsWrongly(t *testing.T) {
	lib := load.Shipped()
	trees := lib.Tried()
	if len(trees) < 4 {
		t.Fatalf("rigs are there for %v only", trees)
	}
	for _, tree := range trees {
		r, err := trial.Run(context.Background(), TrialOf(lib), tree, trial.Options{Rigs: 2000, Seed: 1, WalkOnly: true})
		if err != nil {
			t.Error(err)
			continue
		}
		if r.FalseAllClears != 0 {
			t.Errorf("%s: %d false all-clears", tree, r.FalseAllClears)
			for _, f := range r.False {
				t.Logf("%s ends at %s: %s; %s", f.Vehicle, f.Finding, f.Why, f.Path)
			}
		}
		if r.HealthyRate < 0.95 && r.NoFaultEnds > 0 {
			t.Errorf("%s: %.1f %% of the healthy rigs reach a finding of no fault", tree, 100*r.HealthyRate)
		}
	}
}

// A tree that declares nothing at its all-clear is caught, at the finding's
// place in the document, with a vehicle and the way there.
func TestDeepFindsWhatIsNotDeclared(t *testing.T) {
	lib := load.Shipped()
	for id, r := range lib.Rigs {
		if id != "trailer-30a" {
			delete(lib.Rigs, id)
		} else {
			r.Trees = []string{"pedestal-30a"}
		}
	}
	clear := lib.Forest.Step(faulttree.Ref{Tree: "pedestal-30a", Step: "shown"})
	if clear == nil {
		t.Fatal("the tree has no finding shown")
	}
	clear.Finding.CannotExclude = []faulttree.NotExcluded{{Fault: "meter-hold", Test: "none", Pos: source.Pos{File: "declared", Line: 7}}}
	found := map[string]int{}
	for _, d := range Deep(context.Background(), lib, 1500, 1, nil) {
		if d.Pos == clear.Pos || d.Pos.File == "declared" {
			found[d.Rule]++
			if d.Rule == ruleFalseClear && (!strings.Contains(d.Message, "trailer-30a, ") || !strings.Contains(d.Hint, "prove-meter.source 1")) {
				t.Errorf("%s", d)
			}
		}
	}
	if found[ruleFalseClear] != 1 || found[ruleCannotMissing] < 5 || found[ruleCannotExtra] != 1 {
		t.Errorf("found %v; a rod, a missing bond and a bootleg ground cannot be excluded there", found)
	}
}

// BenchmarkTrialBodyVoltage walks a thousand drawn vehicles per turn.
func BenchmarkTrialBodyVoltage(b *testing.B) {
	lib := load.Shipped()
	for b.Loop() {
		must.Have(trial.Run(context.Background(), TrialOf(lib), "body-voltage", trial.Options{Rigs: 1000, Seed: 7, WalkOnly: true}))(b)
	}
}
