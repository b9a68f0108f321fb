package trial_test

import (
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/trial"
)

// exposed is the careful pedestal tree that also reads the pulled plug, in volts
// and in ohms, between its two live readings.
func exposed() *faulttree.Forest {
	f := forest(false)
	t := f.Trees["pedestal"]
	pins := quantity("plug.l1-n@unplugged", faulttree.VoltsAC, "plug.l1", "plug.n", faulttree.Unplugged)
	path := quantity("ohm:plug.g-body@unplugged", faulttree.Ohms, "plug.g", "body", faulttree.Unplugged)
	pins.Exposure, path.Exposure = faulttree.DeadTest, faulttree.DeadTest
	t.Steps = append(t.Steps, step("pedestal", "pins", pins, 500, "path", "not-judged"), step("pedestal", "path", path, 500, "ground", "not-judged"))
	t.Index()
	t.Step("hot").Branches[1].To.Step = "pins"
	for _, id := range []string{"proof", "hot", "ground"} {
		t.Step(id).Measure[0].Quantity.Exposure = faulttree.AtSupply
	}
	f.Quantities[pins.ID], f.Quantities[path.ID] = pins, path
	return f
}

// A sound vehicle takes the proof, two readings at the supply and two dead ones
// between them; the expected figures are added up by hand.
func TestReadingsAreCountedByExposure(t *testing.T) {
	f := exposed()
	r := run(t, handbook(f), "pedestal", trial.Options{Rigs: 400, Seed: 1, WalkOnly: true})
	total, walks := 0.0, 0
	for _, n := range r.Taken {
		total, walks = total+n.Readings*float64(n.Walks), walks+n.Walks
		if parts := n.Proofs + n.Dead + n.Live + n.Unstated; math.Abs(parts-n.Readings) > 1e-9 {
			t.Errorf("%s, %s: the parts make %v of %v readings", n.Role, n.Vehicles, parts, n.Readings)
		}
		if n.Vehicles != "sound" {
			if n.DeadTested <= 0 || n.DeadTested >= 1 || n.LiveBeforeDead != 1 {
				t.Errorf("%s: %v of the faulted are tested dead, after %v live contacts; a dead supply ends before", n.Role, n.DeadTested, n.LiveBeforeDead)
			}
			continue
		}
		want := trial.Taken{Role: n.Role, Vehicles: "sound", Walks: n.Walks, Readings: 5, Proofs: 1, Dead: 2, Supply: 2, Live: 2, Cost: 1 + 2*1 + 2*3, DeadTested: 1, LiveBeforeDead: 1}
		if n != want {
			t.Errorf("%+v; want %+v", n, want)
		}
	}
	if len(r.Taken) != 4 || walks != 2*r.Rigs || math.Abs(total/float64(walks)-r.MeanMeasurements) > 1e-9 {
		t.Errorf("%d kinds of walks, %d walks of %d rigs, %v readings; the mean is %v", len(r.Taken), walks, r.Rigs, total/float64(walks), r.MeanMeasurements)
	}
}

// The weights are the handbook's; a quantity without an exposure is counted as
// such and as neither dead nor live.
func TestACostIsByTheWeightsOfTheHandbook(t *testing.T) {
	f := exposed()
	f.Weights = faulttree.Weights{1, 2, 10, 20, 30}
	q := &f.Trees["pedestal"].Step("pins").Measure[0].Quantity
	q.Exposure = faulttree.Unexposed
	for _, n := range run(t, handbook(f), "pedestal", trial.Options{Rigs: 100, Seed: 1, WalkOnly: true}).Taken {
		if n.Vehicles == "sound" && (n.Cost != 1+1+2+10+10 || n.Unstated != 1 || n.Dead != 1) {
			t.Errorf("%+v", n)
		}
	}
}

// A limit above what ordinary supplies read calls sound vehicles faulty: the
// trailer at its default 120 V, and of the draws from 117 V to 123 V the two
// thirds below 121 V.
func TestFalseDangerAndDefaultRigs(t *testing.T) {
	f := forest(false)
	o := trial.Options{Rigs: 600, Seed: 1, WalkOnly: true}
	r := run(t, handbook(f), "pedestal", o)
	if r.FalseDanger != 0 || len(r.DefaultRigs) != 2 {
		t.Errorf("%v of the sound are called dangerous; default rigs %+v", r.FalseDanger, r.DefaultRigs)
	}
	for _, d := range r.DefaultRigs {
		if d.Rig != "trailer" || d.Finding != "pedestal#clear" || d.Signal != "notice" || !d.NoFault || d.Readings != 3 {
			t.Errorf("by default %+v", d)
		}
	}
	for i := range f.Trees["pedestal"].Step("ground").Branches {
		b := &f.Trees["pedestal"].Step("ground").Branches[i].Bounds[0].Span
		if b.From != 0 {
			b.From = 121 * faulttree.One
		} else {
			b.Below = 121 * faulttree.One
		}
	}
	r = run(t, handbook(f), "pedestal", o)
	if math.Abs(r.FalseDanger-2.0/3) > 0.1 || math.Abs(r.FalseDanger+r.HealthyRate-1) > 1e-9 {
		t.Errorf("%v of the sound are called dangerous, %v sound", r.FalseDanger, r.HealthyRate)
	}
	for _, d := range r.DefaultRigs {
		if d.Finding != "pedestal#no-ground" || d.Signal != "danger" || d.NoFault {
			t.Errorf("by default %+v", d)
		}
	}
	for _, role := range r.Roles {
		if role.FalseDanger != r.FalseDanger {
			t.Errorf("%+v: nothing in this tree differs between the roles", role)
		}
	}
}
