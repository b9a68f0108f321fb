package scenes_test

import (
	"context"
	"slices"
	"strings"
	"testing"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/vehicle"
)

// claims are what the stories and answers of the shipped scenarios say of
// their readings. They hold by circuit arithmetic; the lines are ours.
var claims = []struct {
	scenario   string
	off        []string // switches thrown first
	loadsOff   bool
	function   meter.Function
	red, black string
	from, to   float64
}{
	{"bright-over-the-sink", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 40, 80},
	{"bright-over-the-sink", nil, false, meter.VoltsAC, "panel.l2", "panel.n", 160, 185},
	{"bright-over-the-sink", nil, false, meter.VoltsAC, "panel.l1", "panel.l2", 230, 242},
	{"slow-oven-at-the-far-row", []string{"plug"}, false, meter.VoltsAC, "pedestal.l1", "pedestal.l2", 205, 210},
	{"slow-oven-at-the-far-row", []string{"plug"}, false, meter.VoltsAC, "pedestal.l1", "pedestal.n", 117, 122},
	{"barefoot-on-the-steel-step", nil, false, meter.VoltsAC, "body", "earth", 27, 33},
	{"buzz-after-the-rain", nil, false, meter.VoltsAC, "body", "earth", 50, 60},
	{"buzz-after-the-rain", nil, false, meter.LowZ, "body", "earth", 0, 10},
	{"new-post-same-price", []string{"plug"}, false, meter.VoltsAC, "pedestal.l1", "pedestal.n", 117, 122},
	{"new-post-same-price", []string{"plug"}, false, meter.VoltsAC, "pedestal.n", "pedestal.g", 0, 0.1},
	{"new-post-same-price", []string{"plug"}, false, meter.VoltsAC, "pedestal.g", "earth", 117, 122},
	{"new-post-same-price", nil, false, meter.VoltsAC, "body", "earth", 117, 122},
	{"supper-on-the-adapter", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 86, 92},
	{"supper-on-the-adapter", nil, true, meter.VoltsAC, "panel.l1", "panel.n", 117, 122},
	{"supper-on-the-adapter", nil, false, meter.VoltsAC, "panel.n", "panel.g", 0, 3},
	{"ridge-on-the-generator", nil, false, meter.VoltsAC, "outlet.n", "outlet.g", 25, 35},
	{"ridge-on-the-generator", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 114, 122},
	{"van-coffee-at-dawn", nil, false, meter.VoltsAC, "outlet.n", "outlet.g", 55, 63},
	{"lamps-like-candles", []string{"converter"}, false, meter.VoltsDC, "battery.pos", "battery.neg", 12.1, 12.7},
	{"lamps-like-candles", []string{"converter"}, false, meter.VoltsDC, "battery.pos", "dc.pos", 1, 3},
	{"lamps-like-candles", []string{"converter"}, true, meter.VoltsDC, "battery.pos", "dc.pos", 0, 0.05},
	{"flat-by-breakfast", nil, true, meter.VoltsDC, "battery.pos", "battery.neg", 11.9, 12.2},
	{"flat-by-breakfast", nil, false, meter.VoltsDC, "converter.pos", "converter.neg", 13.1, 14},
	{"flat-by-breakfast", nil, false, meter.VoltsDC, "dc.pos", "dc.neg", 11.7, 12.1},
	{"three-volts-and-a-worry", nil, false, meter.VoltsAC, "outlet.n", "outlet.g", 1, 2.2},
	{"three-volts-and-a-worry", nil, true, meter.VoltsAC, "outlet.n", "outlet.g", 0, 0.5},
	{"spark-from-the-fleece", nil, false, meter.VoltsAC, "body", "earth", 0, 1},
	{"spark-from-the-fleece", []string{"pedestal", "plug"}, false, meter.Ohms, "plug.g", "body", 0, 0.3},
	{"hand-on-the-black-plug", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 116, 119.4},
	{"hand-on-the-black-plug", nil, true, meter.VoltsAC, "panel.l1", "panel.n", 118, 121},
	{"hand-on-the-black-plug", []string{"pedestal", "plug", "inlet"}, false, meter.Ohms, "plug.l1", "cord.l1", 0, 0.3},
	{"toast-kettle-and-a-cold-morning", nil, false, meter.VoltsAC, "outlet.h", "outlet.n", 114, 120},
	{"toast-kettle-and-a-cold-morning", []string{"pedestal", "plug"}, false, meter.Ohms, "plug.n", "body", 1e6, 1e9},
	{"only-while-the-water-heats", nil, true, meter.VoltsAC, "body", "earth", 10, 60},
	{"only-while-the-water-heats", nil, true, meter.LowZ, "body", "earth", 0, 1},
	{"only-while-the-water-heats", nil, false, meter.VoltsAC, "body", "earth", 100, 120},
	{"only-while-the-water-heats", nil, false, meter.LowZ, "body", "earth", 10, 20},
	{"only-while-the-water-heats", []string{"pedestal", "plug"}, false, meter.Ohms, "plug.g", "body", 0, 0.3},
	{"only-while-the-water-heats", []string{"pedestal", "plug"}, false, meter.Ohms, "plug.l1", "body", 19e3, 21e3},
	{"one-end-of-the-coach-sulks", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 112, 119},
	{"one-end-of-the-coach-sulks", nil, false, meter.VoltsAC, "body", "earth", 1, 3},
	{"one-end-of-the-coach-sulks", nil, false, meter.AmpsAC, "panel.g", "", 5, 12},
	{"one-end-of-the-coach-sulks", []string{"pedestal", "plug", "inlet"}, false, meter.Ohms, "inlet.n", "inlet.g", 0, 0.3},
	{"the-button-that-jumps-back", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 116, 120},
	{"the-button-that-jumps-back", nil, false, meter.VoltsAC, "outlet.h", "outlet.n", 0, 1},
	{"the-button-that-jumps-back", []string{"pedestal", "plug"}, false, meter.Ohms, "plug.n", "body", 0, 0.3},
	{"a-post-like-any-other", []string{"pedestal", "plug"}, false, meter.VoltsAC, "pedestal.l1", "pedestal.g", 0, 1},
	{"a-post-like-any-other", []string{"plug"}, false, meter.VoltsAC, "pedestal.n", "pedestal.g", 118, 121},
	{"a-post-like-any-other", []string{"pedestal", "plug"}, false, meter.Ohms, "plug.n", "plug.g", 0, 0.3},
	{"a-post-like-any-other", nil, false, meter.VoltsAC, "outlet.h", "outlet.n", 0, 1},
	{"the-post-gets-the-blame", []string{"plug"}, false, meter.VoltsAC, "pedestal.l1", "pedestal.n", 118, 121},
	{"the-post-gets-the-blame", nil, false, meter.VoltsAC, "feed.l1", "feed.n", 116, 119},
	{"the-post-gets-the-blame", nil, false, meter.VoltsAC, "panel.l1", "panel.n", 84, 90},
	{"the-post-gets-the-blame", nil, false, meter.VoltsAC, "panel.l2", "panel.n", 117, 120},
	{"the-post-gets-the-blame", nil, false, meter.VoltsAC, "feed.l1", "panel.l1", 28, 33},
	{"the-new-cooler-did-it", []string{"pedestal", "plug"}, true, meter.Ohms, "plug.l1", "body", 0, 0.3},
}

// do does acts on a vehicle and returns the last.
func do(t *testing.T, v *practice.Learner, acts ...practice.Act) practice.Act {
	t.Helper()
	var last practice.Act
	for _, a := range acts {
		a.Asked = true
		done := must.Have(v.Do(a))(t)
		for _, d := range done {
			last = d
		}
	}
	return last
}

func TestScenariosShowWhatTheyTell(t *testing.T) {
	lib := load.Shipped()
	told := map[string]bool{}
	for _, c := range claims {
		s := lib.Scenarios[c.scenario]
		if s == nil {
			t.Errorf("there is no scenario %s", c.scenario)
			continue
		}
		told[s.ID] = true
		made := scenes.CaseOf(lib, s)
		v := must.Have(made.Begin(faulttree.DefaultMeter()))(t)
		for _, name := range c.off {
			do(t, v, practice.Act{Kind: practice.Throw, Name: name})
		}
		if c.loadsOff {
			for leg := range made.Loads {
				do(t, v, practice.Act{Kind: practice.Load, Name: leg})
			}
		}
		for _, name := range v.Resets() { // it stays open only where its cause is there still
			do(t, v, practice.Act{Kind: practice.Reset, Name: name})
		}
		v.Set(meter.Setting{Function: c.function})
		a := do(t, v, practice.Act{Kind: practice.Read, Red: c.red, Black: c.black})
		value := a.Reading().Low.Float()
		if !a.Numeric() || value < c.from || value > c.to {
			t.Errorf("%s: %s reads %q %s; told are %v to %v", c.scenario, scenes.Probed(a), a.Shown, a.Note, c.from, c.to)
		}
	}
	for id, s := range lib.Scenarios {
		if !told[id] && len(s.Meter) == 0 {
			t.Errorf("nothing is claimed of %s", id)
		}
		if words := len(strings.Fields(view.Teaser(s))); words < 4 {
			t.Errorf("%s is announced by %q", id, view.Teaser(s))
		}
	}
}

// The mistakes of the meter show themselves as their stories tell.
func TestScenariosOfTheMeter(t *testing.T) {
	lib := load.Shipped()
	begin := func(id string) *practice.Learner {
		return must.Have(scenes.CaseOf(lib, lib.Scenarios[id]).Begin(faulttree.DefaultMeter()))(t)
	}
	held := begin("the-number-that-never-moves")
	first := do(t, held, practice.Act{Kind: practice.Prove})
	same := do(t, held, practice.Act{Kind: practice.Throw, Name: "plug"}, practice.Act{Kind: practice.Read, Red: "pedestal.l1", Black: "pedestal.n"})
	if first.Shown == "" || same.Shown != first.Shown || !same.Setting.Hold {
		t.Errorf("held: %q, then %q", first.Shown, same.Shown)
	}
	set := held.Setting()
	set.Hold = false
	held.Set(set)
	if a := do(t, held, practice.Act{Kind: practice.Read, Red: "pedestal.l1", Black: "pedestal.n"}); a.Reading().High.Float() > 1 {
		t.Errorf("with the hold off, the dead pedestal reads %s", a.Shown)
	}
	range6 := begin("a-battery-that-breaks-the-meter")
	posts := practice.Act{Kind: practice.Read, Red: "battery.pos", Black: "battery.neg"}
	if first, own := do(t, range6, practice.Act{Kind: practice.Prove}), do(t, range6, posts); first.Shown != "OL" || own.Shown != "OL" {
		t.Errorf("on a range too low, a battery known to be charged reads %s, the trailer's %s", first.Shown, own.Shown)
	}
	set = range6.Setting()
	set.Range = 0
	range6.Set(set)
	if on := do(t, range6, posts); on.Reading().High.Float() < 12.5 || on.Reading().High.Float() > 13.5 {
		t.Errorf("on automatic, with the converter on, the posts read %s", on.Shown)
	}
	if off := do(t, range6, practice.Act{Kind: practice.Throw, Name: "converter"}, posts); off.Reading().High.Float() < 11.6 || off.Reading().High.Float() >= 12 {
		t.Errorf("with the converter off, the posts read %s", off.Shown)
	}
	weak := begin("too-little-of-everything")
	for _, a := range []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "panel.l1", Black: "panel.n"}} {
		if got := do(t, weak, a); got.Reading().High.Float() < 100 || got.Reading().High.Float() > 103 {
			t.Errorf("with a low battery %s reads %s", scenes.Probed(got), got.Shown)
		}
	}
	broken := begin("dead-says-the-meter")
	for _, a := range []practice.Act{{Kind: practice.Prove}, {Kind: practice.Read, Red: "outlet.h", Black: "outlet.n"}} {
		if got := do(t, broken, a); got.Reading().High.Float() > 0.1 {
			t.Errorf("with a broken lead %s reads %s", scenes.Probed(got), got.Shown)
		}
	}
}

// With another cord what was wrong in the cord is gone, and what was not stays.
func TestAnotherCordInAScenario(t *testing.T) {
	lib := load.Shipped()
	for _, tt := range []struct {
		scenario, black string
		from, to        float64 // panel L1 to black with another cord
	}{{"bright-over-the-sink", "panel.n", 110, 121}, {"supper-on-the-adapter", "panel.n", 110, 121}, {"slow-oven-at-the-far-row", "panel.l2", 190, 210}} {
		c := scenes.CaseOf(lib, lib.Scenarios[tt.scenario])
		c.May = append(c.May, "plug", "inlet", "adapter")
		v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
		var acts []practice.Act
		for _, on := range []bool{false, true} {
			for _, s := range c.Rig.Switches {
				if len(s.Covers) > 0 {
					acts = append(acts, practice.Act{Kind: practice.Throw, Name: s.Name, On: on})
				}
			}
			if !on {
				acts = append(acts, practice.Act{Kind: practice.Swap, Name: "another-cord", On: true})
			}
		}
		a := do(t, v, append(acts, practice.Act{Kind: practice.Read, Red: "panel.l1", Black: tt.black})...)
		ids := lists.Each(c.Tries, func(i faulttree.Intervention) string { return i.ID })
		if got := strings.Join(ids, " "); strings.ReplaceAll(got, "another-adapter ", "") != "another-cord another-receptacle another-site appliances-unplugged" {
			t.Errorf("%s: what can be tried is %s", tt.scenario, got)
		}
		if value := a.Reading().Low.Float(); !v.Tried("another-cord") || !a.Numeric() || value < tt.from || value > tt.to {
			t.Errorf("%s: with another cord the panel reads %q %s", tt.scenario, a.Shown, a.Note)
		}
	}
}

// Where a scenario names a tree, the tree finds its way to an end there, whatever an
// observer chooses, and never to an all-clear that leaves out what is hidden and can
// kill.
func TestTreesWalkTheScenarios(t *testing.T) {
	lib := load.FS(context.Background(), content.ShippedFiles())
	for _, s := range view.Scenarios(lib) {
		if s.Tree == "" {
			continue
		}
		c := scenes.CaseOf(lib, s)
		for _, end := range ends(t, lib, c, s.Tree) {
			result, _ := end.Finding()
			if len(result.Finding.Clears) == 0 {
				continue
			}
			for _, id := range c.Truth() {
				f := lib.Faults[id]
				declared := slices.ContainsFunc(result.Finding.CannotExclude, func(n faulttree.NotExcluded) bool { return n.Fault == id })
				if id != practice.NoFault && f.Hazard == faulttree.Danger && !declared && !slices.Contains(result.Finding.Faults, id) {
					t.Errorf("%s: %s clears %v with %s in force", s.ID, result.Ref, result.Finding.Clears, id)
				}
			}
		}
	}
}

// ends is where the walks of a tree end in the vehicle of a case, with its meter, for
// somebody qualified.
func ends(t *testing.T, lib *content.Library, c practice.Case, tree string) []faulttree.Walk {
	t.Helper()
	v := must.Have(vehicle.New(c.Rig))(t)
	must.Do(t, v.Put(c.Setup()))
	m := meter.New(meter.NewFace(faulttree.DefaultMeter()), nil)
	m.Apply(c.Faults)
	one := func(asked vehicle.Asked, q faulttree.Quantity) (faulttree.Reading, error) {
		shown, err := m.Read(asked, q)
		if err != nil {
			return faulttree.NotTaken(err.Error()), nil
		}
		return shown.Reading, nil
	}
	read := func(_ faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error) { return v.Typed(q, one) }
	at := must.Have(faulttree.Begin(lib.Forest, faulttree.Ref{Tree: tree}, faulttree.Qualified, faulttree.DefaultMeter()))(t)
	out, err := vehicle.Walker{Read: read, Value: v.Taken, Vehicle: v}.Ends(at)
	if err != nil || len(out) == 0 {
		t.Fatalf("%s: the tree %s gets nowhere: %v", c.ID, tree, err)
	}
	return out
}

// A contact cannot be probed that lies in a plug that is in, and whoever stands in
// the vehicle comes out for one that can; so on every site of the handbook.
func TestPlugsHideTheirContacts(t *testing.T) {
	sites := 0
	for _, r := range load.Shipped().Rigs {
		if !r.HasNode("pedestal.l1") {
			continue
		}
		sites++
		c := practice.NewCase("plugs", r)
		for _, s := range r.Switches {
			c.May = append(c.May, s.Name)
		}
		v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
		read := func(red, black string) practice.Act { return practice.Act{Kind: practice.Read, Red: red, Black: black} }
		for _, at := range []string{"pedestal", "plug", "adapter", "cord", "inlet"} {
			if r.HasNode(at+".l1") && do(t, v, read(at+".l1", at+".n")).Kind != practice.Reject {
				t.Errorf("%s: with all plugs in, %s is read", r.ID, at)
			}
		}
		if do(t, v, read("panel.l1", "panel.n")); len(r.Inside) == 0 {
			t.Errorf("%s: nothing is inside", r.ID)
		}
		done, err := v.Do(practice.Act{Kind: practice.Throw, Name: "plug", Asked: true})
		if err != nil || len(done) != 2 || done[0].Kind != practice.GoOut {
			t.Errorf("%s: pulling the plug from inside does %+v, %v", r.ID, done, err)
		}
		if a := do(t, v, read("pedestal.l1", "pedestal.n")); a.Kind != practice.Read || a.Shown == "" {
			t.Errorf("%s: with the plug out, the pedestal reads %+v", r.ID, a)
		}
	}
	if sites < 4 {
		t.Errorf("%d sites; expected the four with a pedestal", sites)
	}
}

// The pedestal's own metal is what a hand touches before any receptacle: it is read while
// the plug is in, and not only once the plug was pulled.
func TestThePedestalsMetalIsReadBeforeItsPlugIsPulled(t *testing.T) {
	lib := load.Shipped()
	read := 0
	for id, s := range lib.Scenarios {
		if !s.Rig.HasNode("pedestal.cover") {
			continue
		}
		l := must.Have(scenes.CaseOf(lib, s).Begin(faulttree.DefaultMeter()))(t)
		if a := (practice.Act{Kind: practice.Read, Red: "pedestal.cover", Black: "earth"}); l.Hindered(a) != "" {
			t.Errorf("%s: %s", id, l.Hindered(a))
		}
		read++
	}
	if read < 15 {
		t.Errorf("%d scenarios have a pedestal; want 15 and more", read)
	}
}

// What a step asks to be switched bears the name under which the learner sees it listed.
func TestLoadsHaveOneName(t *testing.T) {
	for _, r := range load.Shipped().Rigs {
		for _, leg := range r.Legs() {
			words := practice.Case{Rig: r}.Words(practice.Act{Kind: practice.Load, Name: leg})
			if want := "turn off the " + strings.TrimPrefix(faulttree.InSentence(scenes.LegTitle(leg)), "the "); words != want {
				t.Errorf("%s: a step says %q, and the list %q", r.ID, words, scenes.LegTitle(leg))
			}
		}
	}
}
