package trial_test

import (
	"math"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/trial"
)

// Of the faults of the scope two lift the body: a leak of at most 20 kΩ beside
// tyres of at least 20 kΩ leaves half of 117 V and more on it, and a hot where
// ground belongs all of it. The tree ends both at one finding that names both, so
// over the vehicles with the complaint it earns one half and names every truth,
// and over all of them less.
func TestFiguresOverVehiclesWithTheComplaint(t *testing.T) {
	f := forest(false)
	tree := f.Trees["tingle"]
	o := trial.Options{Rigs: 300, Seed: 3}
	if r := run(t, handbook(f), "tingle", o); r.Complaint != nil {
		t.Errorf("without a complaint: %+v", r.Complaint)
	}
	shock := func(volts faulttree.Amount) []faulttree.Choice {
		return []faulttree.Choice{{When: []faulttree.When{{Quantity: f.Quantities["body-earth@loaded"], Span: faulttree.Span{From: volts * faulttree.One, Below: faulttree.Highest}}}}}
	}
	tree.Complaint = shock(30)
	r := run(t, handbook(f), "tingle", o)
	lifted, all := 0, 0
	for _, c := range r.Cells {
		if c.Outside {
			continue
		}
		all += c.Walks
		if c.Fault == "leakage-to-body" || c.Fault == "hot-ground-swapped" {
			lifted += c.Walks
		}
	}
	c := r.Complaint
	if want := float64(lifted) / float64(all); math.Abs(c.Share-want) > 1e-9 || want > 0.9 {
		t.Errorf("%.3f of the vehicles have the complaint; %.3f have a fault that lifts the body", c.Share, want)
	}
	if c.Rigs < o.Rigs {
		t.Errorf("%d vehicles with the complaint; drawn on they would be %d", c.Rigs, o.Rigs)
	}
	if math.Abs(c.Isolation-0.5) > 1e-9 || c.Named != 1 || r.Isolation >= 0.5 || r.Named == 1 {
		t.Errorf("isolation %.3f, named %.3f with the complaint, want 0.5 and 1; %.3f and %.3f over all", c.Isolation, c.Named, r.Isolation, r.Named)
	}
	for _, n := range c.Taken {
		if n.Vehicles == "faulted" && (n.Walks != c.Rigs || n.Readings != 1) || n.Vehicles == "sound" && n.Walks != 0 {
			t.Errorf("%+v of %d vehicles, each read once", n, c.Rigs)
		}
	}
	o.Workers = 3
	if again := run(t, handbook(f), "tingle", o).Complaint; again.Rigs != c.Rigs || again.TaskOfPossible != c.TaskOfPossible {
		t.Errorf("with other workers %+v; %+v", again, c)
	}
	tree.Complaint = shock(1000)
	if none := run(t, handbook(f), "tingle", o).Complaint; none == nil || none.Rigs != 0 || none.Share != 0 {
		t.Errorf("nobody feels 1000 V: %+v", none)
	}
}
