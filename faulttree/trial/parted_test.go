package trial_test

import (
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/trial"
)

// partedAt is a line of a finding at which a belief parts from it.
func partedAt(f trial.FindingReport, kind, says string) (trial.Parted, bool) {
	return lists.Find(f.Parted, func(p trial.Parted) bool { return p.Kind == kind && p.Says == says })
}

// A finding that names a leak in the vehicle where the readings show an open
// ground of the supply parts from every belief, and the beliefs are right. The
// tree as it was parts nowhere.
func TestABadFindingParts(t *testing.T) {
	o := trial.Options{Rigs: 1000, Seed: 4}
	for _, f := range run(t, handbook(forest(false)), "pedestal", o).Findings {
		if len(f.Parted) > 0 {
			t.Errorf("%s parts: %+v", f.ID, f.Parted)
		}
	}
	f := forest(false)
	bad := &f.Trees["pedestal"].Step("no-ground").Finding
	bad.Faults, bad.Place, bad.Signal = []string{"leakage-to-body"}, faulttree.Vehicle, faulttree.Notice
	found := findingOf(t, run(t, handbook(f), "pedestal", o), "pedestal#no-ground")
	for _, want := range []struct{ kind, says string }{{"danger", "open-ground@supply"}, {"task", "supply"}} {
		p, ok := partedAt(found, want.kind, want.says)
		if !ok || p.Share != 1 || p.Right != 1 || p.Belief < 0.99 || p.Vehicle == "" || p.Path == "" || p.Walks < 2 {
			t.Errorf("%s %s: %+v", want.kind, want.says, found.Parted)
		}
	}
}

// The careless tree clears the supply after one reading, which is the same with
// an open ground and without. By hand: what is left for the ground is its share of
// the vehicles that are drawn with it or sound.
func TestADangerBehindAnAllClearParts(t *testing.T) {
	o := trial.Options{Rigs: 2000, Seed: 4}
	r := run(t, handbook(forest(true)), "pedestal", o)
	walks := map[string]float64{}
	for _, c := range r.Cells {
		if c.Finding == "pedestal#clear" && !c.Outside {
			walks[c.Fault] += float64(c.Walks)
		}
	}
	want := walks["open-ground"] / (walks["open-ground"] + walks[trial.NoFault])
	p, ok := partedAt(findingOf(t, r, "pedestal#clear"), "danger", "open-ground@supply")
	if !ok || p.Share != 1 || math.Abs(p.Belief-want) > 0.01 || math.Abs(p.Right-want) > 0.05 {
		t.Errorf("%+v; want a share of %.3f", p, want)
	}
	declared := run(t, handbook(forest(true, "open-ground")), "pedestal", o)
	if p, ok := partedAt(findingOf(t, declared, "pedestal#clear"), "danger", "open-ground@supply"); ok {
		t.Errorf("a danger that is declared parts: %+v", p)
	}
}
