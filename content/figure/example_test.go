package figure_test

import (
	"fmt"

	"faultwright/content/figure"
	"faultwright/faulttree"
)

// The picture of a quantity also says in words where the leads go.
func ExampleProbes() {
	q := faulttree.Quantity{
		ID: "pedestal.g-earth", Title: "Pedestal: ground to the earth spike", Unit: faulttree.VoltsAC,
		Red: "pedestal.g", Black: "earth", Range: 600 * faulttree.One,
	}
	d := figure.Probes(q, figure.FaceTT30)
	fmt.Println(d.Description)
	for _, m := range d.Marks {
		fmt.Println(m.Letter)
	}
	// Output:
	// Meter set to AC volts, range 600 V. Red lead on ground slot (TT-30 at the pedestal), black lead on spike, clipped, not held. State: nothing plugged in.
	// R
	// B
}
