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

// A share of the drawn vehicles has a variety, and what it hides is hidden in
// the trial: a tree that reads ohms to the body alone calls these sound although
// they leak.
func TestVarietiesAreDrawn(t *testing.T) {
	r := trailer()
	r.States = []rig.StateRule{{When: []faulttree.Condition{faulttree.Unplugged}, Off: []string{"plug"}, Loads: true}}
	r.Trees = []string{"dead"}
	ohms := quantity("ohm:plug.l1-body@unplugged", faulttree.Ohms, "plug.l1", "body", faulttree.Unplugged)
	dead := &faulttree.Tree{ID: "dead", Start: "leak", Scope: []faulttree.Place{faulttree.Vehicle}, Steps: []*faulttree.Step{
		step("dead", "leak", ohms, 1e6, "leaks", "clear"),
		end("dead", "leaks", faulttree.Finding{Faults: []string{"leakage-to-body"}, Signal: faulttree.Danger}),
		end("dead", "not-judged", faulttree.Finding{Signal: faulttree.Warning}),
		end("dead", "clear", faulttree.Finding{Clears: []faulttree.Place{faulttree.Vehicle}, Signal: faulttree.Notice}),
	}}
	dead.Index()
	f := &faulttree.Forest{Quantities: faulttree.Quantities{ohms.ID: ohms}, Trees: map[string]*faulttree.Tree{"dead": dead}, Touch: forest(false).Touch}
	missed := func(share float64) (float64, *trial.Report) {
		r.Varieties = nil
		if share > 0 {
			r.Varieties = []rig.Variety{{Name: "contactor", Share: share, Open: []string{"entry"}, Without: []string{"plug"}}}
		}
		h := trial.Handbook{Forest: f, Rigs: []*rig.Rig{r}, Faults: faults()[:1]}
		report := must.Have(trial.Run(context.Background(), h, "dead", trial.Options{Rigs: 400, Seed: 1, WalkOnly: true}))(t)
		walks := 0
		for _, c := range report.Cells {
			if c.Fault == "leakage-to-body" && c.Role == "owner" {
				walks += c.Walks
			}
		}
		return float64(report.FalseAllClears) / float64(2*walks), report
	}
	if got, _ := missed(0); got != 0 {
		t.Errorf("without a variety %v of the leaks are missed", got)
	}
	got, report := missed(0.25)
	if got < 0.15 || got > 0.35 {
		t.Errorf("%v of the leaks are missed, want about a quarter", got)
	}
	if len(report.False) == 0 || !strings.HasPrefix(report.False[0].Vehicle, "trailer, contactor, leakage-to-body@vehicle") {
		t.Errorf("the vehicle is told as %+v", report.False)
	}
}
