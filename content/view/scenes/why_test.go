package scenes_test

import (
	"context"
	"math"
	"slices"
	"strconv"
	"strings"
	"sync"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// read takes readings on a rig of the shipped handbook with a fault in one of
// its ways, by a meter without error, after its numbers were changed.
func read(t *testing.T, lib *content.Library, rigID, fault, variant string, change func(set func(param string, value float64), f *rig.Applied), quantities ...string) []suspect.Evidence {
	t.Helper()
	on := lib.Rigs[rigID]
	v := must.Have(vehicle.New(on))(t)
	f := lib.Faults[fault].Edits
	at := slices.IndexFunc(f.Variants, func(v rig.Variant) bool { return v.Text == variant })
	if at < 0 {
		t.Fatalf("%s cannot be %s", fault, variant)
	}
	setup := rig.Setup{Values: on.Values(), Faults: []rig.Applied{f.Ordinary(at)}}
	if change != nil {
		change(func(param string, value float64) { setup.Values[on.Param(param)] = value }, &setup.Faults[0])
	}
	must.Do(t, v.Put(setup))
	m := meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	var out []suspect.Evidence
	for _, id := range quantities {
		q, listed := lib.Forest.Quantities[id]
		if !listed {
			t.Fatalf("there is no quantity %s", id)
		}
		shown := must.Have(m.Read(v.Asked(v.Legs()), q))(t)
		out = append(out, suspect.Evidence{Quantity: q, Reading: shown.Reading})
	}
	return out
}

// reasoning is shared by all tests of this file: it keeps what it has drawn.
var reasoning = sync.OnceValue(func() *scenes.Reasoning {
	return scenes.NewReasoning(load.Shipped(), faulttree.DefaultMeter(), nil)
})

func show(t *testing.T, r *scenes.Reasoning, a view.Account, want scenes.Wanted) scenes.Shown {
	t.Helper()
	shown, err := r.Why(context.Background(), a, want)
	if err != nil || shown.Scene == nil {
		t.Fatalf("%+v: %v", shown, err)
	}
	return shown
}

func wanted(lib *content.Library, tree, fault string, places ...faulttree.Place) scenes.Wanted {
	return scenes.Wanted{Faults: []string{fault}, Places: places, Rigs: view.RigsOf(lib, tree)}
}

// A cord whose neutral read OL end to end is not shown with its neutral open in
// the feeder, nor on a site of another kind than the readings are from: ohms and OL
// count as volts do. The sentences are of the reading that tells most, and the
// vehicle on show reads what they say.
func TestWhyShowsTheCord(t *testing.T) {
	r := reasoning()
	lib := r.Library()
	a := view.Account{Facts: plug("50a"), Evidence: read(t, lib, "coach-50a", "open-neutral", "in the cord", nil,
		"pedestal.l1-n", "pedestal.l2-n", "pedestal.l1-l2", "panel.l1-n@loaded", "panel.l2-n@loaded", "ohm:plug.n-cord.n@unplugged", "ohm:plug.l1-cord.l1@unplugged")}
	shown := show(t, r, a, wanted(lib, "half-dead", "open-neutral"))
	if s := shown.Scene; s.Rig().ID != "coach-50a" || s.Variant().Place != faulttree.Cord || !strings.HasPrefix(s.Places()[s.Place()], "in the cord") {
		t.Errorf("a cord's open neutral is shown as %q", shown.Text)
	}
	for _, reason := range shown.Reasons[:len(a.Evidence)] {
		if (reason.Read == "OL") != (reason.Faulty == "OL") {
			t.Errorf("%s: read %s, the vehicle shown has %s", reason.Title, reason.Read, reason.Faulty)
		}
	}
	first := shown.Reasons[shown.First]
	// Where a lamp takes a part of the current that counts, it goes on in two ways.
	tells := func(text string) bool {
		return strings.Contains(text, "The neutral of the cord is open") && strings.Contains(text, "through the loads on L1") && strings.Contains(text, "through the loads on L2") && (strings.Contains(text, "share 2") || strings.Contains(text, "go on as"))
	}
	if text := strings.Join(first.Why.Text, " "); !tells(text) {
		t.Errorf("%s is explained by %q", first.Title, text)
	}
	if red, black := shown.Scene.Probes(); red != first.Why.At.Red || black != "panel.n" {
		t.Errorf("the probes are on %s and %s", red, black)
	}
	for i := range shown.Reasons {
		shown.Turn(i)
		look := must.Have(shown.Scene.Look())(t)
		if got, want := figure(t, look.Display.Text), figure(t, shown.Reasons[i].Faulty); got != want && !(math.Abs(got-want) <= 0.005*want) { // of three figures
			t.Errorf("%s: the meter on show has %v, the reasons say %v", shown.Reasons[i].Title, got, want)
		}
	}
	// Without any reading the page's own place decides.
	shown = show(t, r, view.Account{Facts: plug("50a")}, wanted(lib, "half-dead", "open-neutral", faulttree.Cord))
	if shown.Scene.Variant().Place != faulttree.Cord || shown.Scene.Rig().ID != "coach-50a" || shown.First >= 0 {
		t.Errorf("shown %q, differs %q", shown.Text, shown.Differs)
	}
}

// figure is the number that a display shows, infinite for OL.
func figure(t *testing.T, shown string) float64 {
	t.Helper()
	if shown == "OL" {
		return math.Inf(1)
	}
	text, _, _ := strings.Cut(shown, " ")
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatalf("%q: %v", shown, err)
	}
	return v
}

// plug is what is known of a vehicle with this plug, on no adapter.
func plug(service string) map[string]string {
	return map[string]string{"service": service, "adapter": "none"}
}

// An owner with a 30 A plug is shown a 30 A vehicle, even where the readings do
// not tell it from a 50 A coach on 208 V; where none has the fault, that is said.
func TestWhyShowsTheReadersPlug(t *testing.T) {
	r := reasoning()
	lib := r.Library()
	a := view.Account{Facts: plug("30a"), Evidence: read(t, lib, "trailer-30a", "open-ground", "in the feeder", nil, "pedestal.l1-n", "body-earth")}
	shown := show(t, r, a, wanted(lib, "body-voltage", "open-ground"))
	if shown.Scene.Rig().ID != "trailer-30a" || slices.ContainsFunc(shown.Differs, func(s string) bool { return strings.Contains(s, "plug") }) {
		t.Errorf("a 30 A owner is shown %q, which differs: %q", shown.Text, shown.Differs)
	}
	shown = show(t, r, view.Account{Facts: map[string]string{"service": "30a", "adapter": "yes"}}, wanted(lib, "body-voltage", "open-ground"))
	if shown.Scene.Rig().ID != "trailer-30a-on-50a" {
		t.Errorf("a 30 A owner on an adapter is shown %q", shown.Text)
	}
	shown = show(t, r, view.Account{Facts: plug("30a")}, wanted(lib, "body-voltage", "wye-208"))
	if !slices.ContainsFunc(shown.Differs, func(s string) bool { return strings.Contains(s, "30 A for your vehicle, 50 A for this one") }) {
		t.Errorf("wye-208 is shown in %q, which differs: %q", shown.Text, shown.Differs)
	}
	a.Facts = plug("15a") // no rig has one: the nearest
	shown = show(t, r, a, wanted(lib, "body-voltage", "open-ground"))
	if shown.Scene.Rig().ID != "trailer-30a" || !slices.ContainsFunc(shown.Differs, func(s string) bool { return strings.Contains(s, "15 or 20 A") }) {
		t.Errorf("with a 15 A plug: %q, which differs: %q", shown.Text, shown.Differs)
	}
	if shown, err := r.Why(context.Background(), a, scenes.Wanted{Faults: []string{"meter-hold"}}); shown.Scene != nil || err != nil {
		t.Errorf("a fault that fits nowhere has the scene %v, %v", shown.Scene, err)
	}
}

// Severity and loads are those that the readings tell: made by the model itself with
// 10 Ω in the cord's neutral, 800 W and 2000 W, they are met again from thousands of
// drawn vehicles, place included.
func TestWhyFitsAllReadings(t *testing.T) {
	r := reasoning()
	lib := r.Library()
	a := view.Account{Facts: plug("50a"), Evidence: read(t, lib, "coach-50a", "high-resistance-neutral", "in the cord", func(set func(string, float64), f *rig.Applied) {
		set("load-l1.watts", 800)
		set("load-l2.watts", 2000)
		f.Severity = 10
	}, "panel.l1-n@loaded", "panel.l2-n@loaded", "panel.n-g@loaded", "ohm:plug.n-cord.n@unplugged", "pedestal.l1-n")}
	shown := show(t, r, a, wanted(lib, "half-dead", "high-resistance-neutral"))
	if s := shown.Scene; s.Variant().Place != faulttree.Cord {
		t.Errorf("shown is %q", shown.Text)
	}
	if dial, ok := shown.Scene.Severity(); !ok || dial.Value < 9 || dial.Value > 11 {
		t.Errorf("the severity shown is %+v, want about 10 Ω", dial)
	}
	for i, reason := range shown.Reasons[:len(a.Evidence)] {
		want := a.Evidence[i].Reading.High.Float()
		if got := reason.Why.Faulty.Number; math.Abs(got-want) > 0.03*want+0.5 {
			t.Errorf("%s: read %s, the vehicle shown has %s", reason.Title, reason.Read, reason.Faulty)
		}
	}
}
