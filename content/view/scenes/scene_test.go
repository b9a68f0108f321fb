package scenes_test

import (
	"math/cmplx"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/faulttree/vehicle"
)

// read takes readings on a rig of the shipped handbook with a fault in one of
// its ways, by a meter without error.
func read(t *testing.T, lib *content.Library, rigID, fault, variant string, quantities ...string) []scene.Taken {
	t.Helper()
	v, err := vehicle.New(lib.Rigs[rigID])
	if err != nil {
		t.Fatal(err)
	}
	f := lib.Faults[fault].Edits
	at := slices.IndexFunc(f.Variants, func(v rig.Variant) bool { return v.Text == variant })
	if at < 0 {
		t.Fatalf("%s cannot be %s", fault, variant)
	}
	if err := v.Put(rig.Setup{Faults: []rig.Applied{f.Ordinary(at)}}); err != nil {
		t.Fatal(err)
	}
	m := meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	var out []scene.Taken
	for _, id := range quantities {
		q, listed := lib.Forest.Quantities[id]
		if !listed {
			t.Fatalf("there is no quantity %s", id)
		}
		shown, err := m.Read(v.Asked(v.Legs()), q)
		if err != nil {
			t.Fatal(err)
		}
		out = append(out, scene.Taken{Quantity: q, Reading: shown.Reading})
	}
	return out
}

func why(t *testing.T, lib *content.Library, tree string, to scene.Situation) scene.Explanation {
	t.Helper()
	shown, err := scene.Why(view.RigsOf(lib, tree), scenes.Book(lib, faulttree.DefaultMeter()), to)
	if err != nil || shown.Scene == nil {
		t.Fatalf("%+v: %v", shown, err)
	}
	return shown
}

func variantOf(s *scene.Scene) string { return s.Places()[s.Place()] }

// A cord whose neutral read OL end to end is not shown with its neutral open in
// the feeder, nor on a site of another kind than the readings are from.
func TestWhyShowsTheCord(t *testing.T) {
	lib := load.Shipped()
	taken := read(t, lib, "coach-50a", "open-neutral", "in the cord",
		"pedestal.l1-n", "pedestal.l2-n", "pedestal.l1-l2", "outlet.h-n@loaded", "ohm:plug.n-cord.n@unplugged", "ohm:plug.l1-cord.l1@unplugged")
	shown := why(t, lib, "half-dead", scene.Situation{Fault: "open-neutral", Taken: taken})
	if shown.Scene.Rig().ID != "coach-50a" || variantOf(shown.Scene) != "in the cord" {
		t.Errorf("a cord's open neutral is shown as %q", shown.Text)
	}
	rows, err := shown.Scene.Compare(taken)
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range rows[4:] {
		if (r.Taken == "OL") != (r.Model == "OL") {
			t.Errorf("%s: taken %s, model %s", r.Title, r.Taken, r.Model)
		}
	}
	// Without any reading the page's own place decides.
	shown = why(t, lib, "half-dead", scene.Situation{Fault: "open-neutral", Facts: plug("50a"), Places: []faulttree.Place{faulttree.Cord}})
	if shown.Scene.Variant().Place != faulttree.Cord || len(shown.Differs) != 0 || shown.Scene.Rig().ID != "coach-50a" {
		t.Errorf("shown %q, differs %q", shown.Text, shown.Differs)
	}
}

// plug is what is known of a vehicle with this plug, on no adapter.
func plug(service string) map[string]string {
	return map[string]string{"service": service, "adapter": "none"}
}

// An owner with a 30 A plug is shown a 30 A vehicle, even where the readings do
// not tell it from a 50 A coach on 208 V; where none has the fault, that is said.
func TestWhyShowsTheReadersPlug(t *testing.T) {
	lib := load.Shipped()
	taken := read(t, lib, "trailer-30a", "open-ground", "in the feeder", "pedestal.l1-n", "body-earth")
	shown := why(t, lib, "body-voltage", scene.Situation{Fault: "open-ground", Facts: plug("30a"), Taken: taken})
	if shown.Scene.Rig().ID != "trailer-30a" || slices.ContainsFunc(shown.Differs, func(s string) bool { return strings.Contains(s, "plug") }) {
		t.Errorf("a 30 A owner is shown %q, which differs: %q", shown.Text, shown.Differs)
	}
	shown = why(t, lib, "body-voltage", scene.Situation{Fault: "open-ground", Facts: map[string]string{"service": "30a", "adapter": "yes"}})
	if shown.Scene.Rig().ID != "trailer-30a-on-50a" {
		t.Errorf("a 30 A owner on an adapter is shown %q", shown.Text)
	}
	shown = why(t, lib, "body-voltage", scene.Situation{Fault: "wye-208", Facts: plug("30a"), Volts: 208})
	if !slices.ContainsFunc(shown.Differs, func(s string) bool { return strings.Contains(s, "30 A for the page's vehicle, 50 A for this one") }) {
		t.Errorf("wye-208 is shown in %q, which differs: %q", shown.Text, shown.Differs)
	}
	shown = why(t, lib, "body-voltage", scene.Situation{Fault: "open-ground", Facts: plug("15a")}) // no rig has one: the nearest
	if shown.Scene.Rig().ID != "trailer-30a" || len(shown.Differs) != 1 {
		t.Errorf("with a 15 A plug: %q, which differs: %q", shown.Text, shown.Differs)
	}
	shown = why(t, lib, "body-voltage", scene.Situation{Fault: "open-neutral", Facts: plug("50a"), Volts: 208})
	if shown.Scene.Rig().ID != "coach-50a-wye" || len(shown.Differs) != 0 {
		t.Errorf("on 208 V: %q, which differs: %q", shown.Text, shown.Differs)
	}
}

// Loads that are known are not turned.
func TestWhyKeepsTheLoads(t *testing.T) {
	lib := load.Shipped()
	shown := why(t, lib, "half-dead", scene.Situation{Fault: "open-neutral", Rig: "coach-50a", Loads: map[string]float64{"l1": 900},
		Taken: read(t, lib, "coach-50a", "open-neutral", "in the cord", "outlet.h-n@loaded")})
	for _, d := range shown.Scene.Loads() {
		if want := map[string]float64{"l1": 900}[d.Name]; d.Value != want {
			t.Errorf("the loads on %s are %g W, want %g", d.Name, d.Value, want)
		}
	}
}

// The circuit of a practice is the vehicle that was practised on: the same
// voltages everywhere, the body's among them, for every shipped scenario.
func TestCaseShownIsTheCase(t *testing.T) {
	lib := load.Shipped()
	for id, s := range lib.Scenarios {
		c := scenes.CaseOf(lib, s)
		learner, err := c.Begin(faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		want, err := learner.Picture()
		if err != nil {
			t.Fatal(err)
		}
		shown, err := scenes.CaseShown(lib, c, faulttree.DefaultMeter())
		if err != nil {
			t.Fatal(err)
		}
		got, err := shown.Scene.Look()
		if err != nil {
			t.Fatal(err)
		}
		for node, volts := range want.Volts {
			if cmplx.Abs(got.Volts[node]-volts) > 1e-6 {
				t.Errorf("%s: %s stands at %v in the circuit, at %v in the practice", id, node, got.Volts[node], volts)
			}
		}
	}
}
