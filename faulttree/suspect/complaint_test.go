package suspect

import (
	"slices"
	"testing"

	"faultwright/faulttree"
)

// What somebody came with makes cases that have it likelier, as something told by
// somebody else does, and like that rules out no danger: one that other evidence leaves a
// share of more than a thousandth stays open, although it has not the complaint.
func TestAComplaintRulesNothingOut(t *testing.T) {
	p := &table{}
	for range 60 {
		p.add(Case{Weight: 1}, map[string]float64{"complaint=tingle": 0, "lamps=even": 0.9, "sound=none": 0.9})
		p.add(Case{Faults: []PlacedFault{{Fault: "open-ground", Place: faulttree.Cord}}, Weight: 1}, map[string]float64{"complaint=tingle": 1, "lamps=even": 0.9, "sound=none": 0.9})
		p.add(Case{Faults: []PlacedFault{{Fault: "open-neutral", Place: faulttree.Supply}}, Weight: 30}, map[string]float64{"complaint=tingle": 0, "lamps=even": 0.003, "sound=none": 0.003})
		p.add(Case{Faults: []PlacedFault{{Fault: "rod-only", Place: faulttree.Supply}}, Weight: 1}, map[string]float64{"lamps=even": 0.9, "sound=none": 0.9}) // of a rig that tells nothing of it
	}
	r := New(p, faulttree.DefaultMeter(), toyFaults)
	seen := func(observation, choice string) Evidence {
		return Evidence{Seen: &Seen{Observation: observation, Choice: choice}, Told: true}
	}
	clues := []Evidence{seen("lamps", "even"), seen("sound", "none")}
	for i := range clues {
		clues[i].Told = false
	}
	without := believe(t, r, clues...)
	with := believe(t, r, append(clues, seen(Complaint, "tingle"))...)
	ratio := func(b *Belief) float64 {
		return shareOf(b, "open-ground", faulttree.Cord) / shareOf(b, NoFault, "")
	}
	if got, want := ratio(with)/ratio(without), 0.95/0.05; got < 0.99*want || got > 1.01*want {
		t.Errorf("the complaint makes a fault that has it %.2f times likelier beside a sound vehicle; expected %.2f, by the chance of what somebody else told", got, want)
	}
	open := func(b *Belief, fault string) bool {
		return slices.ContainsFunc(b.Open(), func(o Open) bool { return o.Fault == fault })
	}
	for _, fault := range []string{"open-ground", "open-neutral", "rod-only"} {
		if open(without, fault) && !open(with, fault) {
			t.Errorf("the complaint rules out %s", fault)
		}
	}
	if share := shareOf(with, "open-neutral", faulttree.Supply); !open(without, "open-neutral") || share > stillOpen {
		t.Errorf("the test shows nothing: the share is %v", share)
	}
	if !slices.ContainsFunc(with.Open(), func(o Open) bool { return o.Fault == "open-ground" && !o.Tested }) {
		t.Error("the complaint counts as a test")
	}
	story := slices.Clone(clues)
	for i := range story {
		story[i].Told = true
	}
	if told := believe(t, r, story...); !open(told, "open-neutral") || slices.ContainsFunc(told.Open(), func(o Open) bool { return o.Tested }) {
		t.Errorf("what somebody tells counts as a test: %v", told.Open())
	}
	if len(with.Open()) != len(without.Open()) {
		t.Errorf("open are %v, without the complaint %v", with.Open(), without.Open())
	}
}
