package scenes

import (
	"strings"
	"testing"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
)

// What a learner read becomes the quantity of the handbook that it is by its
// points and by how the vehicle stood; a proof and a held reading are none.
func TestAttemptAccount(t *testing.T) {
	lib := load.Shipped()
	s := lib.Scenarios["bright-over-the-sink"]
	c := CaseOf(lib, s)
	l, err := c.Begin(faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	a := practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter()}
	do := func(x practice.Act) {
		t.Helper()
		x.Asked = true
		done, err := l.Do(x)
		if err != nil {
			t.Fatal(err)
		}
		a = a.With(done...)
	}
	read := func(f meter.Function, red, black string, hold bool) {
		l.Set(meter.Setting{Function: f, Hold: hold})
		do(practice.Act{Kind: practice.Read, Red: red, Black: black})
	}
	do(practice.Act{Kind: practice.Prove})
	read(meter.VoltsAC, "body", "earth", false)
	read(meter.VoltsAC, "panel.n", "panel.l2", false) // the tips exchanged
	read(meter.VoltsAC, "panel.l1", "panel.n", true)
	do(practice.Act{Kind: practice.Throw, Name: "pedestal", On: false})
	do(practice.Act{Kind: practice.Throw, Name: "plug", On: false})
	read(meter.Ohms, "plug.g", "body", false)
	account, err := AttemptAccount(lib, c, a, s.Tree)
	if err != nil {
		t.Fatal(err)
	}
	var ids []string
	for _, e := range account.Evidence {
		ids = append(ids, e.Quantity.ID)
	}
	if got := strings.Join(ids, " "); got != "body-earth@loaded panel.l2-n@loaded ohm:plug.g-body@unplugged" {
		t.Errorf("read were %s", got)
	}
}

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
