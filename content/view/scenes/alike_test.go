package scenes_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/vehicle"
)

// Where two states are said to be alike for a reading, the circuit solved in both
// gives the same: for every quantity of the handbook in a coach with a lost neutral,
// in states drawn by chance.
func TestAlikeReadsTheSame(t *testing.T) {
	lib := marking().lib
	r := lib.Rigs["coach-50a"]
	v, err := vehicle.New(r)
	if err != nil {
		t.Fatal(err)
	}
	c := coachWith(lib.Faults["open-neutral"].Edits.Ordinary(0))
	if err := v.Put(c.Setup()); err != nil {
		t.Fatal(err)
	}
	rng := rand.New(rand.NewPCG(7, 7))
	state := func() bench.State {
		st := bench.State{Off: map[string]bool{}, Loads: map[string]bool{}}
		for _, s := range r.Switches {
			st.Off[s.Name] = rng.IntN(2) == 0
		}
		for _, leg := range r.Legs() {
			st.Loads[leg] = rng.IntN(2) == 0
		}
		return st
	}
	alike := 0
	for _, id := range lib.Forest.Quantities.IDs() {
		q := lib.Forest.Quantities[id]
		if q.OfMeter() || q.Black == "" || !r.HasNode(q.Red) || !r.HasNode(q.Black) {
			continue
		}
		for range 10 {
			a, b := state(), state()
			if !mark.Alike(r, q, a, b) {
				continue
			}
			alike++
			one, err := v.MeasureIn(q, a)
			if err != nil {
				t.Fatal(err)
			}
			other, err := v.MeasureIn(q, b)
			if err != nil {
				t.Fatal(err)
			}
			x, okX := one.Number(q.Unit)
			y, okY := other.Number(q.Unit)
			room := 0.05 + 0.002*math.Abs(x) // no meter tells less apart
			if q.Unit == faulttree.Ohms {
				room = 0.05 + 0.01*math.Abs(x)
			}
			if okX != okY || okX && !(math.IsInf(x, 0) && math.IsInf(y, 0)) && math.Abs(x-y) > room {
				t.Errorf("%s reads %v %v and %v %v\nin %v\nand %v", id, x, okX, y, okY, a, b)
			}
		}
	}
	if alike < 50 {
		t.Errorf("only %d pairs are alike", alike)
	}
}
