package scenes

import (
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
)

// What was foreseen is told from what was read by the figure alone.
func TestForeseen(t *testing.T) {
	lib := load.Shipped()
	c := CaseOf(lib, lib.Scenarios["bright-over-the-sink"])
	l, err := c.Begin(faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	done, err := l.Do(practice.Act{Kind: practice.Prove})
	if err != nil {
		t.Fatal(err)
	}
	all := Expectations(faulttree.VoltsAC)
	for i, e := range all {
		right := e.Text == "from 105 V to 127 V" // a source known to be live has 120 V
		if said := Foreseen(all, i, done[0]); strings.Contains(said, ", and it read 120.0 V.") != right {
			t.Errorf("%s: %q", e.Text, said)
		}
	}
}
