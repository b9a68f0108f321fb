package suspect_test

import (
	"context"
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/suspect"
)

// legs is drawn vehicles, half of them with an open neutral, and what one leg reads in
// each.
type legs struct{ suspect.Population }

const half = 40

func (legs) Cases() []suspect.Case {
	sound := suspect.Case{Weight: 0.9 / half}
	open := suspect.Case{Faults: []suspect.PlacedFault{{Fault: "open-neutral", Place: faulttree.Cord}}, Weight: 0.1 / half}
	return slices.Concat(slices.Repeat([]suspect.Case{sound}, half), slices.Repeat([]suspect.Case{open}, half))
}

func (legs) Column(context.Context, faulttree.Quantity) ([]float32, error) {
	var sound, open []float32
	for n := range half {
		sound = append(sound, 118+4*float32(n)/half)
		open = append(open, 50+20*float32(n)/half)
	}
	return slices.Concat(sound, open), nil
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
