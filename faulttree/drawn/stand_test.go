package drawn_test

import (
	"context"
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
)

// What somebody reads in a state of their own is what that state makes of every
// vehicle: with the plug out nothing feeds the panel, whatever is wrong with it.
func TestReadAsItStands(t *testing.T) {
	ctx := context.Background()
	p := population(t, drawn.Options{Seed: 1})
	on := faulttree.Quantity{ID: "as it stands: on", Unit: faulttree.VoltsAC, Red: "panel.l1", Black: "panel.n"}
	off := on
	off.ID = "as it stands: off"
	p.Stand(on, drawn.Stand{})
	p.Stand(off, drawn.Stand{State: bench.State{Off: map[string]bool{"plug": true}}})
	fed := must.Have(p.Column(ctx, on))(t)
	unfed := must.Have(p.Column(ctx, off))(t)
	live := 0
	for i := range fed {
		if fed[i] > 100 {
			live++
		}
		if x := float64(unfed[i]); !math.IsNaN(x) && x > 1 {
			t.Fatalf("case %d reads %v V with the plug out", i, x)
		}
	}
	if live == 0 {
		t.Error("no vehicle has a live panel with the plug in")
	}
}
