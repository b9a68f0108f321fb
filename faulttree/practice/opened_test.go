package practice_test

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// A tree that asks to look at a breaker is walked by what stands open in the
// case, and by nothing else.
func TestATreeSeesWhatStandsOpen(t *testing.T) {
	f := forest()
	felt := f.Trees["shock"].Step("felt")
	felt.Choices[0].Sees, felt.Choices[0].Opened = true, []string{"main"}
	felt.Choices[1].Sees = true
	c := with(t, "open-ground")
	for _, test := range []struct {
		parts []string
		want  int // readings: the open main leads on to one
	}{{[]string{"main.l1", "main.n", "main.g"}, 1}, {[]string{"main.l1"}, 0}, {[]string{"tap.l1"}, 0}} {
		c.Faults[0] = rig.Applied{Fault: fault("worn", rig.Edit{Kind: rig.Open, Parts: test.parts})}
		way, err := c.Walk(f, "shock", faulttree.DefaultMeter())
		if err != nil || !way.Found || way.Readings != test.want {
			t.Errorf("%v open: %+v, %v; want %d readings", test.parts, way, err, test.want)
		}
	}
}
