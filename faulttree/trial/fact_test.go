package trial_test

import (
	"context"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
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
		r := must.Have(run(map[string]string{"service": service}))(t)
		if got := r.DefaultRigs[0].Path; got != want {
			t.Errorf("the trailer's walk was %q; expected %q", got, want)
		}
	}
	_, err := run(nil)
	if err == nil || !strings.Contains(err.Error(), "the rig trailer does not state the fact service, which the tree pedestal asks") {
		t.Errorf("a rig that states nothing: %v", err)
	}
}

// A tree is tried under a name before the rigs that list the name, with the
// facts of the name rather than those of the rig; its findings are its own.
func TestATreeIsTriedUnderAName(t *testing.T) {
	f := forest(false)
	f.Facts = []faulttree.Fact{{ID: "service", Choices: []faulttree.Choice{{ID: "30a"}, {ID: "50a"}}}}
	hot := f.Trees["pedestal"].Step("hot")
	hot.Measure[0].Quantity.Needs = faulttree.Needs{"service": {"50a"}}
	hot.NotApplicable = faulttree.Exit{To: faulttree.Ref{Tree: "pedestal", Step: "ground"}, Text: "ground"}
	f.AddName(f.Trees["pedestal"], faulttree.Name{ID: "post-50a", Facts: map[string]string{"service": "50a"}})
	r, other := trailer(), trailer()
	r.Trees, r.Facts = []string{"post-50a"}, map[string]string{"service": "30a"}
	other.ID = "other"
	h := trial.Handbook{Forest: f, Rigs: []*rig.Rig{r, other}, Faults: faults()}
	report := must.Have(trial.Run(context.Background(), h, "post-50a", trial.Options{Rigs: 50, Seed: 1, WalkOnly: true}))(t)
	if report.Tree != "post-50a" || report.Own != "pedestal" || report.HealthyRate != 1 {
		t.Errorf("%s, of the tree %s, finds %v of the sound so", report.Tree, report.Own, report.HealthyRate)
	}
	for _, d := range report.DefaultRigs {
		if d.Rig != "trailer" || d.Finding != "pedestal#clear" || d.Path != "proof 120.0 V; hot 120.0 V; ground 120.0 V" {
			t.Errorf("by default %+v", d)
		}
	}
}
