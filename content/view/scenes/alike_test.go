package scenes_test

import (
	"math"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/mark"
	"faultwright/faulttree/must"
	"faultwright/faulttree/vehicle"
)

// Where two states are said to be alike for a reading, the circuit solved in both
// gives the same: for every quantity of the handbook in a coach with a lost neutral,
// in states drawn by chance.
func TestAlikeReadsTheSame(t *testing.T) {
	lib := marking().lib
	r := lib.Rigs["coach-50a"]
	v := must.Have(vehicle.New(r))(t)
	c := coachWith(lib.Faults["open-neutral"].Edits.Ordinary(0))
	must.Do(t, v.Put(c.Setup()))
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
			one := must.Have(v.MeasureIn(q, a))(t)
			other := must.Have(v.MeasureIn(q, b))(t)
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
