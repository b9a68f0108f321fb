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
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// endsOf walks a tree with a vehicle as it stands, with a meter that is right, to
// all its ends.
func endsOf(t *testing.T, r *rig.Rig, s rig.Setup, tree string, role faulttree.Role) []faulttree.Walk {
	t.Helper()
	v := must.Have(vehicle.New(r))(t)
	must.Do(t, v.Put(s))
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
	at := must.Have(faulttree.Begin(shipped().Forest, faulttree.Ref{Tree: tree}, role, faulttree.DefaultMeter()))(t)
	return must.Have(vehicle.Walker{Read: read, Value: v.Taken, Vehicle: v}.Ends(at))(t)
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
				v := must.Have(reasoning.Suspects(context.Background(), a))(t)
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
