package trial_test

import (
	"context"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/trial"
)

// What a hand may touch, and from where on that hurts, the handbook says. A leak
// of 1 kΩ with the ground open lifts the body to 114 V and more, for its tyres
// have 20 kΩ and more to the soil: 120 V · 20 / 21. That hurts at a limit of
// 30 V, and does not at one of 200 V. Without a limit no all-clear can be judged,
// and a trial says so.
func TestTheHandbookSaysFromWhereOnABodyHurts(t *testing.T) {
	h := handbook(forest(true, "open-ground"))
	h.Faults = append(h.Faults, edits("odd", faulttree.Notice, faulttree.Supply,
		rig.Edit{Kind: rig.Open, Parts: []string{"feeder.g"}}, rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 1000}}))
	for from, live := range map[faulttree.Amount]bool{30: true, 200: false} {
		h.Forest.Touch.From = from * faulttree.One
		r := run(t, h, "pedestal", trial.Options{Rigs: 200, Seed: 3, WalkOnly: true})
		if said := r.FalseAllClears > 0 && r.False[0].Why == "the body can reach 30 V" && r.False[0].Volts >= 114; said != live {
			t.Errorf("from %s V: a live body is %v; want %v: %v", from, said, live, r.False)
		}
	}
	h.Forest.Touch = faulttree.Touch{}
	if _, err := trial.Run(context.Background(), h, "pedestal", trial.Options{Rigs: 10}); err == nil || !strings.Contains(err.Error(), "what a hand may touch") {
		t.Errorf("a handbook without a limit: %v", err)
	}
}
