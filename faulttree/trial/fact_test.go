package trial_test

import (
	"context"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/trial"
)

// The trial answers a fact by what the rig states: a trailer that has no second
// leg is not asked for it. Stated otherwise, or not at all, it is.
func TestARigAnswersFacts(t *testing.T) {
	run := func(facts map[string]string) (*trial.Report, error) {
		f := forest(false)
		f.Facts = []faulttree.Fact{{ID: "service", Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}}}
		hot := f.Trees["pedestal"].Step("hot")
		hot.Measure[0].Quantity.Needs = faulttree.Needs{"service": {"50a"}}
		hot.NotApplicable = faulttree.Exit{To: faulttree.Ref{Tree: "pedestal", Step: "ground"}, Text: "ground"}
		r := trailer()
		r.Facts = facts
		return trial.Run(context.Background(), trial.Handbook{Forest: f, Rigs: []*rig.Rig{r}, Faults: faults()}, "pedestal", trial.Options{Rigs: 50, Seed: 1, WalkOnly: true})
	}
	for service, want := range map[string]string{
		"30a": "proof 120.0 V; service = 30a; ground 120.0 V",
		"50a": "proof 120.0 V; service = 50a; hot 120.0 V; ground 120.0 V",
	} {
		r, err := run(map[string]string{"service": service})
		if err != nil {
			t.Fatal(err)
		}
		if got := r.DefaultRigs[0].Path; got != want {
			t.Errorf("the trailer's walk was %q; expected %q", got, want)
		}
	}
	_, err := run(nil)
	if err == nil || !strings.Contains(err.Error(), "the rig trailer does not state the fact service, which the tree pedestal asks") {
		t.Errorf("a rig that states nothing: %v", err)
	}
}
