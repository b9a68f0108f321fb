package trial_test

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/trial"
)

// looking is a trailer with a breaker, and a tree that asks to look at it. The
// numbers are round ones, no source.
func looking() trial.Handbook {
	r := trailer()
	m := made{r}
	for i := range r.Parts {
		if p := &r.Parts[i]; p.Name == "heater" {
			p.A = "branch.l1"
		}
	}
	m.part("breaker", rig.Breaker, "panel.l1", "branch.l1", map[rig.Attribute]int{
		rig.AttrOhms: m.param("breaker.ohms", rig.Ohms, 0.01, 0.01, 0.01), rig.AttrTrip: m.param("breaker.trip", rig.Amperes, 20, 20, 20)})
	r.Trees = []string{"dead"}
	choice := func(id string, sees bool, opened ...string) faulttree.Choice {
		return faulttree.Choice{ID: id, Text: id, Sees: sees, Opened: opened, Exit: faulttree.Exit{Text: id, To: faulttree.Ref{Tree: "dead", Step: id}}}
	}
	tree := &faulttree.Tree{ID: "dead", Start: "look", Scope: []faulttree.Place{faulttree.Supply, faulttree.Vehicle}, Steps: []*faulttree.Step{
		{Tree: "dead", ID: "look", Title: "look", Kind: faulttree.KindObserve, Choices: []faulttree.Choice{
			choice("tripped", true, "breaker"), choice("none", true)}},
		end("dead", "tripped", faulttree.Finding{Faults: []string{"overload", "worn"}, Signal: faulttree.Warning}),
		end("dead", "none", faulttree.Finding{Signal: faulttree.Notice}),
	}}
	tree.Index()
	return trial.Handbook{Forest: &faulttree.Forest{Quantities: faulttree.Quantities{}, Trees: map[string]*faulttree.Tree{"dead": tree}, Touch: touch},
		Rigs: []*rig.Rig{r}, Faults: []*rig.Fault{
			// Trips the breaker only while the loads are on.
			edits("overload", faulttree.Warning, faulttree.Vehicle, rig.Edit{Kind: rig.Connect, Nodes: [2]string{"branch.l1", "panel.n"}, Ohms: rig.EditValue{Fixed: 2}, Leg: "l1"}),
			edits("worn", faulttree.Warning, faulttree.Vehicle, rig.Edit{Kind: rig.Open, Parts: []string{"breaker"}}),
			edits("open-ground", faulttree.Danger, faulttree.Supply, rig.Edit{Kind: rig.Open, Parts: []string{"feeder.g"}}),
		}}
}

// What has tripped in the vehicle, or was opened by its fault, is seen and
// named; where nothing has, nothing is seen. No draw goes both ways.
func TestOpenDevicesAreSeen(t *testing.T) {
	h := looking()
	if list := h.Rigs[0].Check(); list.HasErrors() {
		t.Fatal(list)
	}
	r := run(t, h, "dead", trial.Options{Rigs: 300, Seed: 1, WalkOnly: true})
	want := map[string]float64{"overload": 1, "worn": 1, "open-ground": 0}
	for _, c := range r.Coverage {
		if w, ok := want[c.Fault]; ok && (c.Named != w || c.Walks == 0) {
			t.Errorf("%s is named in %.3f of %d walks; want %g", c.Fault, c.Named, c.Walks, w)
		}
	}
	if r.HealthyRate != 1 {
		t.Errorf("%.3f of the sound vehicles show no open breaker", r.HealthyRate)
	}
	// Without a condition every choice is walked and the worst counts.
	look := h.Forest.Trees["dead"].Step("look")
	for i := range look.Choices {
		look.Choices[i].Sees, look.Choices[i].Opened = false, nil
	}
	for _, c := range run(t, h, "dead", trial.Options{Rigs: 300, Seed: 1, WalkOnly: true}).Coverage {
		if c.Named != 0 {
			t.Errorf("%s is named in %.3f of the walks, though a reader may choose otherwise", c.Fault, c.Named)
		}
	}
}
