package trial_test

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/trial"
)

// weighing is the careless tree with a weigh step before its all-clear: where
// L1 to neutral is above 110 V it says so, and clears the supply all the same.
func weighing() *faulttree.Forest {
	f := forest(true)
	tree := f.Trees["pedestal"]
	hot := tree.Step("hot")
	again := step("pedestal", "again", hot.Measure[0].Quantity, 110, "clear", "clear")
	again.Kind, again.Branches[1].Label = faulttree.KindWeigh, "as it should be"
	again.Derive = []faulttree.Derived{{Name: "twice", Unit: faulttree.VoltsAC, Terms: []faulttree.Term{{Factor: 2, Var: 0}}}}
	hot.Branches[1].To.Step = "again"
	tree.Steps = append(tree.Steps, again)
	tree.Index()
	return f
}

// What is weighed is no reading: the same walks take as many as without it,
// and are told with it.
func TestWeighingIsNoReading(t *testing.T) {
	o := trial.Options{Rigs: 400, Seed: 1}
	plain, r := run(t, handbook(forest(true)), "pedestal", o), run(t, handbook(weighing()), "pedestal", o)
	if r.FalseAllClears != plain.FalseAllClears || r.MeanMeasurements != plain.MeanMeasurements {
		t.Errorf("%d false all-clears and %v readings with weighing, %d and %v without",
			r.FalseAllClears, r.MeanMeasurements, plain.FalseAllClears, plain.MeanMeasurements)
	}
	if len(r.False) == 0 || !strings.Contains(r.False[0].Path, "V (weighed again: as it should be)") {
		t.Errorf("the walks are told as %+v", r.False)
	}
	if r.EntropyBound >= plain.EntropyBound && plain.EntropyBound > 0 {
		t.Errorf("a tree that weighs tells more apart by a reading, but needs %v, not less than %v", r.EntropyBound, plain.EntropyBound)
	}
}
