package faulttree

import (
	"strings"
	"testing"

	"faultwright/faulttree/lists"
)

// prepared is what is prepared for a reading, as one phrase.
func prepared(q Quantity) string {
	all := lists.Each(q.Prepare(), Preparation.String)
	return strings.Join(all, ", ")
}

// Every condition has words, and a dead reading always says that generator
// and inverter are off: with the plug alone pulled they would feed the vehicle.
func TestPrepareSaysEveryCondition(t *testing.T) {
	for _, c := range Conditions() {
		if prepared(Quantity{Red: "panel.l1", Black: "panel.n", Conditions: []Condition{c}}) == "" {
			t.Errorf("@%s has no words", c)
		}
	}
	for red, want := range map[string]string{
		"plug.l1":     "plug pulled, generator and inverter off",
		"body":        "plug pulled, generator and inverter off",
		"inlet.g":     "cord off, generator and inverter off",
		"cord.g":      "cord off at both ends, generator and inverter off",
		"adapter.g":   "adapter in the hand, both ends free, generator and inverter off",
		"tow.gnd":     "tow connector pulled, generator and inverter off",
		"battery.pos": "battery cables off the posts, generator and inverter off",
	} {
		if got := prepared(Quantity{Red: red, Black: "body", Conditions: []Condition{Unplugged}}); got != want {
			t.Errorf("%s: %q, want %q", red, got, want)
		}
	}
}
