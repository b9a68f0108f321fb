package content_test

import (
	"context"
	"maps"
	"slices"
	"testing"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// endsOf walks a tree with a vehicle as it stands, with a meter that is right, to
// all its ends.
func endsOf(t *testing.T, r *rig.Rig, s rig.Setup, tree string, role faulttree.Role) []faulttree.Walk {
	t.Helper()
	v, err := vehicle.New(r)
	if err != nil {
		t.Fatal(err)
	}
	if err := v.Put(s); err != nil {
		t.Fatal(err)
	}
	m := meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	read := func(_ faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error) {
		return v.Typed(q, func(asked vehicle.Asked, q faulttree.Quantity) (faulttree.Reading, error) {
			shown, err := m.Read(asked, q)
			if err != nil {
				return faulttree.NotTaken(err.Error()), nil
			}
			return shown.Reading, nil
		})
	}
	at, err := faulttree.Begin(shipped().Forest, faulttree.Ref{Tree: tree}, role, faulttree.DefaultMeter())
	if err != nil {
		t.Fatal(err)
	}
	ends, err := vehicle.Walker{Read: read, Value: v.Taken, Vehicle: v}.Ends(at)
	if err != nil {
		t.Fatal(err)
	}
	return ends
}

// What fits the readings of a sound vehicle parts from no finding of it: a sound
// vehicle is not called dangerous.
func TestSoundVehiclesPartFromNoFinding(t *testing.T) {
	reasoning := scenes.NewReasoning(shipped(), faulttree.DefaultMeter(), nil)
	seen := 0
	for _, id := range slices.Sorted(maps.Keys(shipped().Rigs)) {
		r := shipped().Rigs[id]
		for _, tree := range r.Trees {
			for _, end := range endsOf(t, r, rig.Setup{Values: r.Values()}, tree, faulttree.Owner) {
				result, _ := end.Finding()
				a := view.AccountOf(end, 0)
				if len(a.Evidence) == 0 || result.Finding.Signal == faulttree.Danger {
					continue
				}
				v, err := reasoning.Suspects(context.Background(), a)
				if err != nil {
					t.Fatal(err)
				}
				seen++
				if p := view.PartingOf(shipped(), result, v); p.Text != "" {
					t.Errorf("%s, %s: %s %q: %s", r.ID, tree, result.Ref, result.Title, p.Text)
				}
			}
		}
	}
	if seen < 10 {
		t.Errorf("only %d findings were compared", seen)
	}
}
