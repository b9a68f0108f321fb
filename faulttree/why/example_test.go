package why_test

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/why"
)

// A heater of 1200 W on one leg and 600 W on the other, and a cord whose neutral is
// open: why the first leg reads 80 V.
func ExampleOf() {
	m := ideal()
	m.load("l1", 1200, 1)
	m.load("l2", 600, 1)
	a, err := why.Of(m.Rig, rig.Setup{Faults: []rig.Applied{fault(open("cord.n"))}}, volts("panel.l1", "panel.n", faulttree.Loaded), faulttree.DefaultMeter())
	if err != nil {
		fmt.Println(err)
		return
	}
	fmt.Printf("healthy %.0f V, with the fault %.0f V\n%s\n", a.Sound.Number, a.Faulty.Number, strings.Join(a.Text, "\n"))
	// Output:
	// healthy 120 V, with the fault 80 V
	// The neutral of the cord is open: the 5 A that it carries in a sound vehicle cannot pass.
	// The 6.67 A through the loads on L1 go on through the loads on L2, so that they share 240 V as 80 V and 160 V.
}
