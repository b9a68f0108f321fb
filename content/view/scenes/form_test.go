package scenes_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"

	"faultwright/content"
	"faultwright/content/document"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/source"
)

// What a form shows of a scenario, and what it does not show, comes back as it was.
func TestAFormGivesTheScenarioBack(t *testing.T) {
	lib := load.Shipped()
	for _, s := range view.Scenarios(lib) {
		back, text, problems := scenes.FormOf(s).Scenario(context.Background(), lib)
		if len(problems) > 0 {
			t.Errorf("%s: %v", s.ID, problems)
			continue
		}
		if diff := cmp.Diff(s, back, cmpopts.IgnoreTypes(source.Pos{}, []document.Block{}), cmpopts.EquateEmpty(),
			cmp.Comparer(func(x, y *rig.Rig) bool { return x == y }), cmp.Comparer(func(x, y *rig.Fault) bool { return x == y })); diff != "" {
			t.Errorf("%s: want (-) and got (+) differ:\n%s", s.ID, diff)
		}
		if text != load.ScenarioText(lib, s) {
			t.Errorf("%s: the form's file is another", s.ID)
		}
	}
}

// An instructor fills a form in from nothing: each step says what is missing, and in
// the end there is a file that a learner can be given.
func TestAFormIsFilledIn(t *testing.T) {
	lib, ctx := load.Shipped(), context.Background()
	fields := func(f scenes.Form) []string {
		_, _, problems := f.Scenario(ctx, lib)
		var out []string
		for _, p := range problems {
			out = lists.With(out, p.Field)
			if !strings.HasSuffix(p.Text, ".") {
				t.Errorf("%q is no sentence", p.Text)
			}
		}
		return out
	}
	var f scenes.Form
	if got := fields(f); !slices.Equal(got, []string{"Title", "Story", "Answer", "Rig"}) {
		t.Errorf("of an empty form are missing %v", got)
	}
	f = f.WithRig(lib, "coach-50a")
	f.Title, f.Story, f.Answer = "Lamps: they \"dance\"", "Since noon the lamps dance.\n\nNobody was hurt.", "The neutral has a bad contact: #1 of what burns plugs."
	c := f.Choices(lib)
	if len(c.Rigs) != len(lib.Rigs) || len(c.Faults) < 20 || len(c.Meter) < 6 || len(c.Legs) != 3 || len(c.Switches) != 4 || len(c.Trees) < 4 {
		t.Errorf("the choices are %+v", c)
	}
	f = f.WithFault(lib, "high-resistance-neutral").WithFault(lib, "high-resistance-neutral")
	f.Loads = map[string]string{"l1": "1500", "l2": "0.5 kW", "l1l2": "much"}
	if got := fields(f); !slices.Equal(got, []string{"Loads"}) {
		t.Errorf("with loads of %q are missing %v", f.Loads, got)
	}
	f.Loads["l1l2"] = ""
	f = f.Turned(lib, 0, 1).Turned(lib, 7, 0.5)
	c = f.Choices(lib)
	if len(f.Faults) != 1 || len(c.Places[0]) < 4 || c.Severity[0] == nil || c.Severity[0].Share() != 1 || f.Faults[0].Severity != 100 {
		t.Errorf("the fault is %+v with %+v", f.Faults, c.Places)
	}
	s, text, problems := f.Scenario(ctx, lib)
	if s == nil {
		t.Fatal(problems)
	}
	if s.ID != "lamps-they-dance" || !s.Is(content.OneFault) || s.Faults[0].Severity != 100 || s.Rig.Watts(s.Setup().Values, "l2") != 500 || len(s.Body) != 2 || !strings.Contains(text, "fault: high-resistance-neutral") {
		t.Errorf("the scenario is %+v\n%s", s, text)
	}
	f.Faults[0].Severity = 1e6
	f.Faults = append(f.Faults, scenes.FormFault{Fault: "open-neutral", Variant: 99}, scenes.FormFault{Fault: "nothing"})
	if _, _, problems := f.Scenario(ctx, lib); len(problems) != 3 {
		t.Errorf("of three faults that cannot be: %v", problems)
	}
	if other := f.WithRig(lib, "house-12v"); len(other.Faults) != 0 || other.Tree != "" || len(other.May) != 4 {
		t.Errorf("on the 12 V side it is %+v", other)
	}
	f.Faults, f.Story = nil, "See [this](card:no-such-card)."
	if _, _, problems := f.Scenario(ctx, lib); len(problems) != 1 || problems[0].Field != "Story" {
		t.Errorf("of a link that leads nowhere: %v", problems)
	}
}

// A preview shows what hurts first, and follows the dial: the worse a
// connection, the less arrives behind it.
func TestAFormShowsWhatAMeterWouldRead(t *testing.T) {
	lib, m := load.Shipped(), faulttree.DefaultMeter()
	f := scenes.FormOf(lib.Scenarios["barefoot-on-the-steel-step"])
	shown, err := f.Preview(lib, m)
	if err != nil || len(shown) == 0 || !shown[0].Danger || !strings.HasPrefix(shown[0].Title, "Body to the earth spike") || shown[0].Shown == shown[0].Sound {
		t.Fatalf("%+v, %v", shown, err)
	}
	var none scenes.Form
	if shown, err := none.Preview(lib, m); len(shown) != 0 || err != nil {
		t.Errorf("without a rig: %v, %v", shown, err)
	}
	sound := f
	sound.Faults = nil
	shown, err = sound.Preview(lib, m)
	if err != nil || slices.ContainsFunc(shown, func(p scenes.Previewed) bool { return p.Differs || p.Danger }) {
		t.Errorf("a vehicle in order: %+v, %v", shown, err)
	}
	loose := scenes.FormOf(lib.Scenarios["lamps-like-candles"])
	at := func(share float64) string {
		shown := must.Have(loose.Turned(lib, 0, share).Preview(lib, m))(t)
		i := slices.IndexFunc(shown, func(p scenes.Previewed) bool {
			return strings.Contains(p.Title, "plus of the battery to plus of the panel") || strings.Contains(p.Title, "12 V panel")
		})
		if i < 0 {
			t.Fatalf("%+v", shown)
		}
		return shown[i].Shown
	}
	if mild, bad := at(0), at(1); mild == bad {
		t.Errorf("however bad it is, the panel reads %s", mild)
	}
}
