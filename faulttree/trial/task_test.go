package trial_test

import (
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/faulttree/trial"

	"github.com/google/go-cmp/cmp"
)

// One finding names two faults of the supply. Who repairs both at one place has
// one task, so by place the tree earns all there is but the meter's own
// faults; with a repairer for each it earns as much as by fault.
func TestIsolationByWhatIsToBeDone(t *testing.T) {
	same := func(string, faulttree.Place) string { return "the site's electrician" }
	each := func(fault string, _ faulttree.Place) string { return "who knows " + fault }
	for name, repairedBy := range map[string]func(string, faulttree.Place) string{"nobody says": nil, "the same": same, "each": each} {
		h := handbook(forest(false))
		h.RepairedBy = repairedBy
		r := run(t, h, "pedestal", trial.Options{Rigs: 400, Seed: 1, WalkOnly: true})
		supply, all := 0, 0
		for _, c := range r.Coverage {
			all += c.Walks
			if c.Fault != "meter-weak" {
				supply += c.Walks
			}
		}
		byPlace := float64(supply) / float64(all)
		byTask := byPlace
		if name == "each" {
			byTask = r.Isolation
		}
		if math.Abs(r.IsolationByPlace-byPlace) > 1e-9 || math.Abs(r.IsolationByTask-byTask) > 1e-9 || r.Isolation >= byPlace {
			t.Errorf("%s: %v by fault, %v by place, %v by task; want %v and %v", name, r.Isolation, r.IsolationByPlace, r.IsolationByTask, byPlace, byTask)
		}
	}
}

// What a finding says outranks where its vehicles came from: one that sends the
// reader to the wrong place earns nothing there.
func TestAStatedPlaceIsTakenAtItsWord(t *testing.T) {
	h := handbook(forest(false))
	o := trial.Options{Rigs: 400, Seed: 1, WalkOnly: true}
	before := run(t, h, "pedestal", o)
	share := func(r *trial.Report) float64 {
		dead, all := 0, 0
		for _, c := range r.Cells {
			if c.Fault == trial.NoFault || c.Outside {
				continue
			}
			all += c.Walks
			if c.Finding == "pedestal#dead" && c.Fault != "meter-weak" {
				dead += c.Walks
			}
		}
		return float64(dead) / float64(all)
	}(before)
	for place, lost := range map[faulttree.Place]float64{faulttree.Supply: 0, faulttree.Vehicle: share} {
		h.Forest.Trees["pedestal"].Step("dead").Finding.Place = place
		if r := run(t, h, "pedestal", o); share == 0 || math.Abs(before.IsolationByPlace-r.IsolationByPlace-lost) > 1e-9 {
			t.Errorf("stated as %s: %v by place, %v before", place, r.IsolationByPlace, before.IsolationByPlace)
		}
	}
}

// A finding that states no place points at the fewest that hold nine tenths of
// the vehicles with a fault it names; those with another do not count.
func TestPlacesOfAFindingThatStatesNone(t *testing.T) {
	for _, c := range []struct {
		supply, vehicle int
		want            []faulttree.Place
	}{
		{90, 10, []faulttree.Place{faulttree.Supply}},
		{89, 11, []faulttree.Place{faulttree.Supply, faulttree.Vehicle}},
		{10, 90, []faulttree.Place{faulttree.Vehicle}},
		{0, 0, nil},
	} {
		walks := map[string]map[faulttree.Place]int{"meter-weak": {faulttree.MeterOwn: 1000}}
		if c.supply+c.vehicle > 0 {
			walks["hot-ground-swapped"] = map[faulttree.Place]int{faulttree.Supply: c.supply}
			walks["leakage-to-body"] = map[faulttree.Place]int{faulttree.Vehicle: c.vehicle}
		}
		got := must.Have(trial.PointedAt(handbook(forest(false)), "tingle", "tingle#live", walks))(t)
		if d := cmp.Diff(c.want, got); d != "" {
			t.Errorf("%d at the supply, %d on the vehicle: %s", c.supply, c.vehicle, d)
		}
	}
}

// A leak that comes along with a lost ground of the supply is mended in the
// vehicle, where a leak sits: a finding that sends the reader there is right.
func TestWhatComesAlongIsRepairedWhereItSits(t *testing.T) {
	h := handbook(forest(false))
	leak := h.Faults[0].Variants[0]
	both := edits("lost-and-leaking", faulttree.Danger, faulttree.Supply, leak.Edits...)
	both.Severity, both.Variants[0].With = h.Faults[0].Severity, []string{"leakage-to-body"}
	h.Faults = append(h.Faults, both)
	live := h.Forest.Trees["tingle"].Step("live")
	live.Finding.Faults, live.Finding.Place = []string{"leakage-to-body"}, faulttree.Vehicle
	r := run(t, h, "tingle", trial.Options{Rigs: 400, Seed: 1, WalkOnly: true})
	leaking, all := 0, 0
	for _, c := range r.Cells {
		if c.Outside || c.Fault == trial.NoFault {
			continue
		}
		all += c.Walks
		if c.Finding == "tingle#live" && (c.Fault == "leakage-to-body" || c.Fault == "lost-and-leaking") {
			leaking += c.Walks
		}
	}
	if want := float64(leaking) / float64(all); math.Abs(r.IsolationByPlace-want) > 1e-9 {
		t.Errorf("%.3f is earned by place; %.3f of the faulted vehicles end at a leak and have one", r.IsolationByPlace, want)
	}
}
