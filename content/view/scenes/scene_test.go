package scenes_test

import (
	"math/cmplx"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
)

// The circuit of a practice is the vehicle that was practised on: the same
// voltages everywhere, the body's among them, for every shipped scenario.
func TestCaseShownIsTheCase(t *testing.T) {
	lib := load.Shipped()
	for id, s := range lib.Scenarios {
		c := scenes.CaseOf(lib, s)
		learner, err := c.Begin(faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		want, err := learner.Picture()
		if err != nil {
			t.Fatal(err)
		}
		shown, err := scenes.CaseShown(lib, c, faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		got, err := shown.Scene.Look()
		if err != nil {
			t.Fatal(err)
		}
		for node, volts := range want.Volts {
			if cmplx.Abs(got.Volts[node]-volts) > 1e-6 {
				t.Errorf("%s: %s stands at %v in the circuit, at %v in the practice", id, node, got.Volts[node], volts)
			}
		}
	}
}
