package trial_test

import (
	"context"
	"math"
	"slices"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/trial"
)

// orderOf is one line of the comparison of costs.
func orderOf(t *testing.T, r *trial.Report, role, until, vehicles string) trial.Order {
	t.Helper()
	for _, o := range r.Orders {
		if o.Role == role && o.Until == until && o.Vehicles == vehicles {
			return o
		}
	}
	t.Fatalf("no line for %s, %s, %s among %+v", role, until, vehicles, r.Orders)
	return trial.Order{}
}

// detour is the pedestal tree with a reading on the way that decides nothing:
// neutral to ground, live contact at the supply, before L1 to neutral. All its
// readings but the proof are of contacts at the supply.
func detour() *faulttree.Forest {
	f := forest(false)
	tree := f.Trees["pedestal"]
	at := func(id string) *faulttree.Step { return tree.Step(id) }
	apart := quantity("pedestal.n-g", faulttree.VoltsAC, "pedestal.n", "pedestal.g")
	apart.Exposure = faulttree.AtSupply
	f.Quantities[apart.ID] = apart
	for _, id := range []string{"hot", "ground"} {
		at(id).Measure[0].Quantity.Exposure = faulttree.AtSupply
	}
	way := step("pedestal", "apart", apart, 5, "hot", "hot")
	tree.Steps = append(tree.Steps, way)
	tree.Index()
	at("proof").Branches[1].To.Step = "apart"
	return f
}

// A reading that decides nothing is what a tree costs more than the best order.
// By hand: with a meter that works the tree takes the proof at 1 and three live
// contacts at 3 where L1 is there, two where it is not; the best order leaves the
// detour out, so that every walk that goes past the proof costs 3 less. The same
// tree without the detour has no better order.
func TestADetourIsWhatATreeCostsMore(t *testing.T) {
	o := trial.Options{Rigs: 3000, Seed: 5}
	long := orderOf(t, run(t, handbook(detour()), "pedestal", o), "owner", "finding", "sound")
	if math.Abs(long.Tree-10) > 1e-9 || math.Abs(long.Best-7) > 0.1 || math.Abs(long.Readings-3) > 0.05 || long.Agrees < 0.98 || long.Walks == 0 {
		t.Errorf("a sound pedestal costs %+v; want 10 by the tree and 7 by the best order", long)
	}
	if len(long.Spared) != 1 || long.Spared[0].Quantity != "pedestal.n-g" || math.Abs(long.Spared[0].Tree-1) > 1e-9 || long.Spared[0].Best > 0.01 {
		t.Errorf("the tree takes oftener %+v; want the detour alone", long.Spared)
	}
	f := detour()
	f.Trees["pedestal"].Step("proof").Branches[1].To.Step = "hot"
	short := run(t, handbook(f), "pedestal", o)
	for _, role := range []string{"owner", "qualified"} {
		if all := orderOf(t, short, role, "finding", "all"); all.Ratio() < 1-0.01 || all.Ratio() > 1.03 {
			t.Errorf("without the detour the tree costs %.3f times the best order: %+v", all.Ratio(), all)
		}
	}
	if wrong := run(t, handbook(f), "pedestal", trial.Options{Rigs: 200, Seed: 5, Wrong: 0.01}); len(wrong.Orders) > 0 {
		t.Errorf("with wrong readings orders were looked for: %+v", wrong.Orders)
	}
}

// Where findings leave the same to be done an order need not tell them apart: it
// goes on less far, and costs no more.
func TestTheSameToBeDoneIsKnownSooner(t *testing.T) {
	h := handbook(detour())
	h.RepairedBy = func(string, faulttree.Place) string { return "the site's electrician" }
	for i := range h.Faults { // all of the supply, all DANGER
		h.Faults[i].Hazard = faulttree.Danger
	}
	dead := h.Forest.Trees["pedestal"].Step("dead")
	dead.Finding.Signal = faulttree.Danger
	r := run(t, h, "pedestal", trial.Options{Rigs: 3000, Seed: 5})
	finding, task := orderOf(t, r, "owner", "finding", "faulted"), orderOf(t, r, "owner", "task", "faulted")
	if task.Best > finding.Best+0.05 || task.Tree != finding.Tree {
		t.Errorf("to the finding %+v, to the same to be done %+v", finding, task)
	}
}

// What a tree loses is told at the step where it loses it: by hand 3 in every walk
// that goes past the proof, at the detour and nowhere else. The order that looks
// ahead keeps the gates, and costs no less than the shortest.
func TestAnOptimumSaysWhereATreeLoses(t *testing.T) {
	o := trial.Options{Rigs: 3000, Seed: 5}
	best := must.Have(trial.FindOptimum(context.Background(), handbook(detour()), "pedestal", o))(t)
	told := 0
	for _, x := range best.Orders {
		if x.Vehicles != "sound" || x.Until != "finding" {
			continue
		}
		told++
		if math.Abs(x.Tree-10) > 1e-9 || math.Abs(x.Best-7) > 0.1 {
			t.Errorf("a sound pedestal costs %+v; want 10 by the tree and 7 by the best order", x)
		}
		if len(x.Lost) != 1 || x.Lost[0].Step != "pedestal#apart" || math.Abs(x.Lost[0].Cost-3) > 0.05 || x.Lost[0].Walks < 0.98 || !slices.Equal(x.Lost[0].Quantities, []string{"pedestal.n-g"}) {
			t.Errorf("it loses %+v; want 3 at the detour", x.Lost)
		}
	}
	if told != 2 {
		t.Errorf("%d lines of sound pedestals; want one for each role", told)
	}
	f := detour()
	f.Trees["pedestal"].Step("proof").Branches[1].To.Step = "hot"
	short := must.Have(trial.FindOptimum(context.Background(), handbook(f), "pedestal", o))(t)
	for _, x := range short.Orders {
		for _, lost := range x.Lost {
			if lost.Cost > 0.1*x.Tree {
				t.Errorf("without the detour it loses %+v", lost)
			}
		}
	}
	o.Wrong = 0.01
	if _, err := trial.FindOptimum(context.Background(), handbook(f), "pedestal", o); err == nil {
		t.Error("an order is found from readings that go wrong")
	}
}
