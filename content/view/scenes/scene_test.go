package scenes_test

import (
	"math/cmplx"
	"testing"

	"faultwright/content/load"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
)

// The circuit of a practice is the vehicle that was practised on: the same
// voltages everywhere, the body's among them, for every shipped scenario.
func TestCaseShownIsTheCase(t *testing.T) {
	lib := load.Shipped()
	for id, s := range lib.Scenarios {
		c := scenes.CaseOf(lib, s)
		learner := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
		want := must.Have(learner.Picture())(t)
		shown := must.Have(scenes.CaseShown(lib, c, faulttree.DefaultMeter()))(t)
		got := must.Have(shown.Scene.Look())(t)
		for node, volts := range want.Volts {
			if cmplx.Abs(got.Volts[node]-volts) > 1e-6 {
				t.Errorf("%s: %s stands at %v in the circuit, at %v in the practice", id, node, got.Volts[node], volts)
			}
		}
	}
}
