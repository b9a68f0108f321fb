package content

import (
	"context"
	"testing"

	"faultwright/faulttree/trial"
)

// Two thousand drawn vehicles down every tree: no all-clear is false, and a
// sound vehicle is found so (at least 95 in 100).
func TestNoShippedTreeClearsWrongly(t *testing.T) {
	lib := Shipped()
	trees := lib.Tried()
	if len(trees) < 4 {
		t.Fatalf("rigs are there for %v only", trees)
	}
	for _, tree := range trees {
		r, err := trial.Run(context.Background(), lib.Trial(), tree, trial.Options{Rigs: 2000, Seed: 1, WalkOnly: true})
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
		if r.HealthyRate < 0.95 {
			t.Errorf("%s: %.1f %% of the healthy rigs reach a finding of no fault", tree, 100*r.HealthyRate)
		}
	}
}
