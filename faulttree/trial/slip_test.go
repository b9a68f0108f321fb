package trial_test

import (
	"context"
	"math"
	"testing"

	"faultwright/faulttree/trial"

	"github.com/google/go-cmp/cmp"
)

// A tree that clears on one reading clears wrongly where that reading goes
// wrong: with the ground open, a frozen display and a tip on the neutral beside
// show 120 V, two of three slips. A tree that repeats it does so far less often.
func TestAllClearsAreCountedWithWrongReadings(t *testing.T) {
	o := trial.Options{Rigs: 3000, Seed: 1, WalkOnly: true}
	rate := func(twice bool, wrong float64) float64 {
		f := forest(false)
		p := f.Trees["pedestal"]
		if twice {
			again := step("pedestal", "again", p.Step("ground").Measure[0].Quantity, 100, "no-ground", "clear")
			p.Steps = append(p.Steps, again, step("pedestal", "between", p.Step("proof").Measure[0].Quantity, 100, "not-judged", "again"))
			p.Index()
			p.Step("ground").Branches[1].To.Step = "between"
		}
		o.Wrong = wrong
		r := run(t, handbook(f), "pedestal", o)
		cleared, all := 0, 0
		for _, c := range r.Cells {
			if c.Fault == "open-ground" {
				cleared, all = cleared+c.False, all+c.Walks
			}
		}
		if all < 1000 {
			t.Fatalf("%d grounds were open", all)
		}
		return float64(cleared) / float64(all)
	}
	if x := rate(false, 0); x != 0 {
		t.Errorf("%v of the open grounds are cleared without a wrong reading", x)
	}
	once, repeated := rate(false, 0.1), rate(true, 0.1)
	// proof and hot survive their own slips in about nine of ten walks
	if want := 0.1 * 2 / 3 * 0.9; math.Abs(once-want) > 0.02 {
		t.Errorf("%v of the open grounds are cleared by one wrong reading; want about %v", once, want)
	}
	if repeated > once/4 {
		t.Errorf("%v are cleared where the reading is repeated, %v where it is not", repeated, once)
	}
}

// Draws with wrong readings are as independent of the workers as others, and a
// sound vehicle is found so unless one of its three readings shows 0.
func TestWrongReadingsBelongToTheDraw(t *testing.T) {
	o := trial.Options{Rigs: 6000, Seed: 3, Workers: 1, WalkOnly: true, Wrong: 0.1}
	one := run(t, handbook(forest(false)), "pedestal", o)
	o.Workers = 3
	if d := cmp.Diff(one, run(t, handbook(forest(false)), "pedestal", o)); d != "" {
		t.Error(d)
	}
	// a third of the slips misses the contact; the frozen and the neighbouring reading are about 120 V as well
	if want := math.Pow(1-0.1/3, 3); math.Abs(one.HealthyRate-want) > 0.03 {
		t.Errorf("%v of the sound are found so; want about %v", one.HealthyRate, want)
	}
	for _, wrong := range []float64{-0.1, 0.6, math.NaN()} {
		o.Wrong = wrong
		if _, err := trial.Run(context.Background(), handbook(forest(false)), "pedestal", o); err == nil {
			t.Errorf("a share of %v is tried", wrong)
		}
	}
}
