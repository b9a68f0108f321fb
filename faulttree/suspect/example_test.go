package suspect_test

import (
	"context"
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// legs is four drawn vehicles, and what one leg reads in each.
type legs struct{ suspect.Population }

func (legs) Cases() []suspect.Case {
	open := []suspect.PlacedFault{{Fault: "open-neutral", Place: faulttree.Cord}}
	return []suspect.Case{{Weight: 0.45}, {Weight: 0.45}, {Faults: open, Weight: 0.05}, {Faults: open, Weight: 0.05}}
}

func (legs) Column(context.Context, faulttree.Quantity) ([]float32, error) {
	return []float32{118, 121, 60, 176}, nil
}

func (l legs) More(context.Context, []int, int) (suspect.Population, error) { return l, nil }

func Example() {
	describe := func(fault string, place faulttree.Place) suspect.Described {
		if fault == suspect.NoFault {
			return suspect.Described{}
		}
		return suspect.Described{Title: "The neutral is open", Hazard: faulttree.Danger, Do: "Keep it unplugged.", Test: "Ohms of the cord, unplugged."}
	}
	q := faulttree.Quantity{ID: "panel.l1-n", Unit: faulttree.VoltsAC, Range: 600 * faulttree.One, Most: 700 * faulttree.One}
	r := suspect.New(legs{}, faulttree.DefaultMeter(), describe)
	for _, text := range []string{"59 V", "120 V"} {
		shown, _ := faulttree.ParseReading(text, q)
		b, err := r.Belief(context.Background(), []suspect.Evidence{{Quantity: q, Reading: shown}})
		if err != nil {
			fmt.Println(err)
			return
		}
		for _, s := range b.Suspects() {
			fmt.Printf("%s: %s, %.2f: %s\n", text, s.Likely, s.Share, s.Title)
		}
		for _, o := range b.Open() {
			fmt.Println("still open:", o.Title, o.Test)
		}
	}
	// Output:
	// 59 V: most likely, 0.98: The neutral is open
	// 59 V: unlikely, 0.01: no fault that these readings would show
	// still open: The neutral is open Ohms of the cord, unplugged.
	// 120 V: most likely, 0.99: no fault that these readings would show
	// 120 V: unlikely, 0.00: The neutral is open
}
