package content_test

import (
	"testing"

	"faultwright/faulttree"
)

// pedestalWalks are the readings at a pedestal, and how many of them are taken,
// the proofs of the meter among them, before the cause is named. A sheet whose
// ground is live stops on that one reading.
var pedestalWalks = []struct {
	expectedWalk
	readings int
}{
	{expectedWalk{"pedestal-15a-sound", "shown", "", faulttree.Notice, "", ""}, 8},
	{expectedWalk{"pedestal-30a-106-volts", "shown", "", faulttree.Notice, "", ""}, 8},
	{expectedWalk{"pedestal-30a-broken", "not-judged", "", faulttree.Warning, "", ""}, 0},
	{expectedWalk{"pedestal-30a-dial", "prove-meter.meter-dial", "", faulttree.Danger, "meter-wrong-function", ""}, 3},
	{expectedWalk{"pedestal-30a-dry-spike", "no-reference", "", faulttree.Warning, "", ""}, 6},
	{expectedWalk{"pedestal-30a-exchanged-dry-spike", "hot-on-ground", "", faulttree.Danger, "hot-ground-swapped", ""}, 6},
	{expectedWalk{"pedestal-30a-far-too-high", "too-high", "", faulttree.Danger, "high-supply", ""}, 5},
	{expectedWalk{"pedestal-30a-floating-ground", "ground-open", "", faulttree.Danger, "open-ground", ""}, 6},
	{expectedWalk{"pedestal-30a-ground-screw-lost", "ground-open", "", faulttree.Danger, "open-ground", ""}, 7},
	{expectedWalk{"pedestal-30a-half-volt", "shown", "", faulttree.Notice, "", ""}, 8},
	{expectedWalk{"pedestal-30a-healthy", "shown", "", faulttree.Notice, "", ""}, 8},
	{expectedWalk{"pedestal-30a-high", "high", "", faulttree.Warning, "high-supply", ""}, 6},
	{expectedWalk{"pedestal-30a-hot-poor", "nothing", "", faulttree.Warning, "", ""}, 6},
	{expectedWalk{"pedestal-30a-neutral-open", "neutral-open", "", faulttree.Danger, "open-neutral", ""}, 5},
	{expectedWalk{"pedestal-30a-nothing", "nothing", "", faulttree.Warning, "supply-dead", ""}, 6},
	{expectedWalk{"pedestal-30a-plastic-post", "ground-live", "stop-live", faulttree.Danger, "open-ground", ""}, 1},
	{expectedWalk{"pedestal-30a-pulled-neutral", "two-hots", "", faulttree.Danger, "", ""}, 5},
	{expectedWalk{"pedestal-30a-reversed-bootleg", "ground-live", "stop-live", faulttree.Danger, "bootleg-ground-reversed", ""}, 1},
	{expectedWalk{"pedestal-30a-reversed-polarity", "exchanged", "", faulttree.Danger, "reversed-polarity", ""}, 6},
	{expectedWalk{"pedestal-30a-site-shift", "raised", "", faulttree.Warning, "neutral-earth-shift", ""}, 5},
	{expectedWalk{"pedestal-30a-two-hots-208", "two-hots", "", faulttree.Danger, "240-on-30a", ""}, 5},
	{expectedWalk{"pedestal-30a-wired-240", "two-hots", "", faulttree.Danger, "240-on-30a", ""}, 5},
	{expectedWalk{"pedestal-50a-both-legs-25", "neutral-open", "", faulttree.Danger, "open-neutral", ""}, 6},
	{expectedWalk{"pedestal-50a-far-too-high", "too-high", "", faulttree.Danger, "high-supply", ""}, 5},
	{expectedWalk{"pedestal-50a-ground-floats", "ground-open", "", faulttree.Danger, "open-ground", ""}, 8},
	{expectedWalk{"pedestal-50a-healthy-208", "wye", "", faulttree.Notice, "wye-208", ""}, 10},
	{expectedWalk{"pedestal-50a-healthy-240", "shown", "", faulttree.Notice, "", ""}, 10},
	{expectedWalk{"pedestal-50a-high-leg", "high-leg", "", faulttree.Danger, "high-leg-delta", ""}, 6},
	{expectedWalk{"pedestal-50a-hot-on-ground", "ground-live", "stop-live", faulttree.Danger, "hot-ground-swapped", ""}, 1},
	{expectedWalk{"pedestal-50a-leg-2-hangs", "leg-lost", "", faulttree.Warning, "open-hot-l2", ""}, 6},
	{expectedWalk{"pedestal-50a-leg-dead", "leg-lost", "", faulttree.Warning, "open-hot-l2", ""}, 5},
	{expectedWalk{"pedestal-50a-low-supply", "too-low", "", faulttree.Danger, "low-supply", ""}, 8},
	{expectedWalk{"pedestal-50a-meter-frozen", "ground-live", "stop-live", faulttree.Danger, "", ""}, 1},
	{expectedWalk{"pedestal-50a-near-the-upper-limit", "shown", "", faulttree.Notice, "", ""}, 10},
	{expectedWalk{"pedestal-50a-neighbour-on-ground", "ground-live", "stop-live", faulttree.Danger, "neighbour-fault-shared-ground", ""}, 1},
	{expectedWalk{"pedestal-50a-neutral-contact-open", "neutral-open", "", faulttree.Danger, "open-neutral", ""}, 6},
	{expectedWalk{"pedestal-50a-neutral-hangs-in-the-middle", "neutral-open", "", faulttree.Danger, "open-neutral", ""}, 9},
	{expectedWalk{"pedestal-50a-neutral-lost-upstream", "neutral-upstream", "", faulttree.Danger, "open-neutral", ""}, 6},
	{expectedWalk{"pedestal-50a-neutral-raised", "neutral-apart", "", faulttree.Danger, "high-resistance-neutral", ""}, 6},
	{expectedWalk{"pedestal-50a-no-low-impedance", "shown", "", faulttree.Notice, "", ""}, 10},
	{expectedWalk{"pedestal-50a-open-neutral-208", "neutral-apart", "", faulttree.Danger, "open-neutral", ""}, 8},
	{expectedWalk{"pedestal-50a-open-neutral", "neutral-lost", "", faulttree.Danger, "open-neutral", ""}, 5},
	{expectedWalk{"pedestal-50a-red-in-ampere-jack", "prove-meter.meter-leads", "", faulttree.Danger, "meter-amp-jack", ""}, 3},
	{expectedWalk{"pedestal-50a-reversed-polarity", "exchanged", "", faulttree.Danger, "reversed-polarity", ""}, 6},
	{expectedWalk{"pedestal-50a-same-leg", "same-leg", "", faulttree.Danger, "same-leg", ""}, 6},
	{expectedWalk{"pedestal-50a-source-floats", "neutral-apart", "", faulttree.Danger, "unbonded-source", ""}, 8},
	{expectedWalk{"pedestal-50a-uneven", "uneven", "", faulttree.Danger, "high-resistance-hot", ""}, 6},
}

// What a practitioner would need, counted by hand, and one reading more for the
// pedestal's own metal: a pole that does not make, 5; an open neutral on 50 A, 6;
// a sound 30 A receptacle, 8, and a sound 50 A one, 10, both proofs and low
// impedance among them.
func TestPedestalStopsAsSoonAsTheCauseIsKnown(t *testing.T) {
	lib := shipped()
	for _, c := range pedestalWalks {
		w, _ := walkFile(t, lib, c.file)
		taken := 0
		for _, e := range w.Trail() {
			taken += len(e.Answer.Readings)
		}
		if taken != c.readings {
			t.Errorf("%s takes %d readings; want %d", c.file, taken, c.readings)
		}
	}
}
