package view

import (
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// A title names the faults between which nothing decides, and those that are there
// at once.
func TestTitlesOfSeveralFaults(t *testing.T) {
	lib := load.Shipped()
	at := func(fault string, place faulttree.Place, share float64) suspect.Part {
		return suspect.Part{At: faulttree.FaultAt{Fault: fault, Place: place}, Share: share}
	}
	for _, c := range []struct {
		parts []suspect.Part
		want  string
	}{
		{[]suspect.Part{at("open-neutral", faulttree.Supply, 0.6), at("high-resistance-neutral", faulttree.Supply, 0.3)}, "The neutral is open, or the neutral has a bad contact"},
		{[]suspect.Part{at("open-neutral", faulttree.Supply, 0.85), at("high-resistance-neutral", faulttree.Supply, 0.05)}, "The neutral is open"},
		{[]suspect.Part{at("open-ground", faulttree.Cord, 0.9), at("leakage-to-body", faulttree.Vehicle, 0.9)}, "The grounding conductor is open, and insulation is breaking down to the body"},
		{[]suspect.Part{at("open-hot-l2", faulttree.Supply, 0.5), at("open-hot-l1", faulttree.Supply, 0.4)}, "L2 is lost, or L1 is lost"},
	} {
		s := suspect.Suspect{Title: lib.Faults[c.parts[0].At.Fault].Title, Parts: c.parts, Share: 0.9}
		if got := titleOf(lib, s); got != c.want {
			t.Errorf("the title is %q; want %q", got, c.want)
		}
	}
}
