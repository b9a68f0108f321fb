package sessiontest

import (
	"context"
	"math"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
)

// Vehicles is vehicles of four kinds, each with what it reads: enough for a page of
// suspects, and solved at once. Meanwhile, if set, happens whenever a column is asked
// for; its error is that of the column.
type Vehicles struct{ Meanwhile func() error }

// Draw draws them, whatever the facts are.
func (v *Vehicles) Draw(context.Context, drawn.Options) (suspect.Population, error) {
	return v, nil
}

var _ scenes.Draw = (&Vehicles{}).Draw

// each is how many vehicles of a kind there are.
const each = 60

// reads is what a vehicle of each kind reads: a sound one, an open neutral in the cord and one
// in the supply, an open ground in the supply.
var reads = map[string][]float32{
	"panel.l1-n@loaded":           {118, 59, 62, 118},
	"panel.l2-n@loaded":           {118, 177, 174, 118},
	"panel.n-g@loaded":            {0.4, 59, 58, 0.4},
	"pedestal.l1-n":               {120, 120, 118, 120},
	"pedestal.l2-n":               {120, 120, 118, 120},
	"ohm:plug.n-cord.n@unplugged": {0.1, 1e9, 0.1, 0.1},
	"body-earth":                  {0.3, 0.3, 0.3, 60},
	"ohm:plug.g-body@unplugged":   {0.1, 0.1, 0.1, 0.1},
	"pedestal.l1-g":               {120, 120, 120, 60},
	"ohm:plug.n-body@unplugged":   {2e6, 2e6, 2e6, 2e6},
	"plug.l1-n@unplugged":         {0, 0, 0, 0},
	"plug.n-g@unplugged":          {0, 0, 0, 0},
	"pedestal.cover-earth":        {0.2, 0.2, 0.2, 0.2},
	"pedestal.l1-earth":           {120, 120, 120, 120},
}

// Cases are the vehicles.
func (*Vehicles) Cases() []suspect.Case {
	one := func(weight float64, faults ...suspect.PlacedFault) suspect.Case {
		return suspect.Case{Rig: "coach", System: "120 V", Weight: weight, Faults: faults}
	}
	kinds := []suspect.Case{
		one(0.2),
		one(0.4, suspect.PlacedFault{Fault: "open-neutral", Place: faulttree.Cord}),
		one(0.2, suspect.PlacedFault{Fault: "open-neutral", Place: faulttree.Supply}),
		one(0.2, suspect.PlacedFault{Fault: "open-ground", Place: faulttree.Supply}),
	}
	var out []suspect.Case
	for _, kind := range kinds {
		for range each {
			out = append(out, kind)
		}
	}
	return out
}

// Column is what a quantity reads in them.
func (v *Vehicles) Column(_ context.Context, q faulttree.Quantity) ([]float32, error) {
	if v.Meanwhile != nil {
		if err := v.Meanwhile(); err != nil {
			return nil, err
		}
	}
	kinds := reads[q.ID]
	switch {
	case kinds == nil && q.Has(faulttree.Unplugged) && q.Unit == faulttree.VoltsAC: // pulled pins are dead
		kinds = []float32{0, 0, 0, 0}
	case kinds == nil:
		return nothing(), nil
	}
	var out []float32
	for _, x := range kinds {
		for i := range each {
			out = append(out, x*(1+0.02*(float32(i)/each-0.5)))
		}
	}
	return out, nil
}

// Seen, Gone and More tell nothing more of them.
func (*Vehicles) Seen(context.Context, string, string) ([]float32, error) { return nothing(), nil }

// Gone tells nothing.
func (*Vehicles) Gone(context.Context, string, string) ([]float32, error) { return nothing(), nil }

// More are the same.
func (v *Vehicles) More(context.Context, []int, int) (suspect.Population, error) { return v, nil }

func nothing() []float32 {
	out := make([]float32, 4*each)
	for i := range out {
		out[i] = float32(math.NaN())
	}
	return out
}
