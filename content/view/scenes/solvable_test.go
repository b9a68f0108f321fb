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
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// Every scenario of the handbook can be solved by what it permits, its answer is
// about what is hidden, and its story keeps that to itself. A vehicle in order is
// cleared by nothing, so there the check says which dangers stay open.
func TestScenariosAreFine(t *testing.T) {
	if testing.Short() {
		t.Skip("draws the vehicles of every rig")
	}
	lib := load.Shipped()
	r := scenes.NewReasoning(lib, faulttree.DefaultMeter(), nil)
	for _, s := range view.Scenarios(lib) {
		c := must.Have(r.Check(context.Background(), s))(t)
		t.Logf("%s: %v, %s of %d pieces, else %v, %d open. %s", s.ID, s.Kinds, view.ShareText(c.Solved.Share), c.Solved.Readings, c.Solved.Else, len(c.Solved.Open), c.Meter)
		if !c.Fine() {
			t.Errorf("%s: %s %s", s.ID, c.Unsolved, strings.Join(append(c.Contradicts, c.GivesAway...), " "))
		}
		if sound := len(scenes.Hidden(lib, s)) == 0; sound && len(c.Solved.Open) == 0 || !sound && !c.Solved.Held() && len(s.Expect.Open) == 0 {
			t.Errorf("%s: the belief gives %.3f, %d dangers are open", s.ID, c.Solved.Share, len(c.Solved.Open))
		}
		if len(s.Meter) > 0 != (c.Meter != "") {
			t.Errorf("%s: of the meter the check says %q", s.ID, c.Meter)
		}
	}
}

// There are enough scenarios of every kind, for every tree and every hazard, and each
// says what is learnt from it and what varies. The numbers are those of the order.
func TestScenariosCoverTheField(t *testing.T) {
	lib := load.Shipped()
	kinds, trees, hazards := map[content.ScenarioKind]int{}, map[string]int{}, map[faulttree.Signal]int{}
	for id, s := range lib.Scenarios {
		for _, k := range s.Kinds {
			kinds[k]++
		}
		hazards[s.Hazard]++
		if t := lib.Forest.Tree(s.Tree); t != nil {
			trees[t.Own()]++
		}
		if s.Lesson == "" || !s.Vary.Stated || s.Tree == "" || len(s.May) == 0 {
			t.Errorf("%s lacks a lesson, a tree, switches, or what varies", id)
		}
		if words := len(strings.Fields(s.Story)); words < 110 || words > 190 {
			t.Errorf("the story of %s has %d words", id, words)
		}
		if !strings.Contains(s.Story, "Quillback") {
			t.Errorf("%s is not set at Quillback Hollow", id)
		}
	}
	if len(lib.Scenarios) < 24 {
		t.Errorf("there are %d scenarios", len(lib.Scenarios))
	}
	for _, k := range []content.ScenarioKind{content.NoFaultHidden, content.TwoFaults, content.MeterMistake, content.MisleadingStory} {
		if kinds[k] < 4 {
			t.Errorf("%d scenarios are of the kind %s", kinds[k], k)
		}
	}
	for id := range lib.Forest.Trees {
		if trees[id] < 2 {
			t.Errorf("%d scenarios are for the tree %s", trees[id], id)
		}
	}
	for _, h := range []faulttree.Signal{faulttree.Notice, faulttree.Warning, faulttree.Danger} {
		if hazards[h] < 2 {
			t.Errorf("%d scenarios hide something of the hazard %s", hazards[h], h)
		}
	}
}

// A story that tells, an answer about something else, and a loss that nobody can
// find are told.
func TestAScenarioThatIsNotFine(t *testing.T) {
	lib := load.Shipped()
	r := scenes.NewReasoning(lib, faulttree.DefaultMeter(), func(context.Context, drawn.Options) (suspect.Population, error) { return nil, context.Canceled })
	if _, err := r.Check(context.Background(), lib.Scenarios["bright-over-the-sink"]); err == nil {
		t.Error("without vehicles there is an answer")
	}
	r = scenes.NewReasoning(lib, faulttree.DefaultMeter(), nil)
	read := func(id string, edit func(string) string) scenes.Checked {
		text := edit(load.ScenarioText(lib, lib.Scenarios[id]))
		s, diags := load.Scenario(context.Background(), lib, "x.md", strings.NewReader(text), nil)
		if s == nil {
			t.Fatal(diags)
		}
		return must.Have(r.Check(context.Background(), s))(t)
	}
	c := read("lamps-like-candles", func(text string) string { return text })
	if !c.Fine() {
		t.Errorf("as it was, it is not fine: %+v", c)
	}
	c = read("lamps-like-candles", func(text string) string {
		return strings.Replace(text, "The battery in our trailer", "One terminal is quite corroded. The battery in our trailer", 1)
	})
	if len(c.GivesAway) != 1 || !strings.Contains(c.GivesAway[0], "corroded terminal") {
		t.Errorf("a story that tells: %v", c.GivesAway)
	}
	c = read("lamps-like-candles", func(text string) string {
		return strings.Replace(text, "There is a bad connection in the cable", "The battery is discharged. There is a bad connection in the cable", 1)
	})
	if len(c.Contradicts) != 1 || !strings.Contains(c.Contradicts[0], "The battery is discharged") {
		t.Errorf("an answer about something else: %v", c.Contradicts)
	}
	c = read("lamps-like-candles", func(text string) string { return strings.Replace(text, "lamps-12v: dim", "lamps-12v: dead", 1) })
	if len(c.Contradicts) != 1 || !strings.Contains(c.Contradicts[0], "They are out") {
		t.Errorf("a story of what cannot be seen: %v", c.Contradicts)
	}
	c = read("lamps-like-candles", func(text string) string { return strings.Replace(text, "{dc: 100 W}", "{dc: 1 W}", 1) })
	if c.Unsolved == "" || c.Solved.Held() {
		t.Errorf("with hardly a load: %+v", c.Solved)
	}
}

// A reading that nobody with care may take solves nothing: where no plug may be pulled,
// an open neutral in the coach shows at its panel alone, with loads on, and there nobody
// reads while the neutral is in doubt. With the plug out it is found dead.
func TestAScenarioIsSolvedWithCareOrNotAtAll(t *testing.T) {
	lib := load.Shipped()
	r := scenes.NewReasoning(lib, faulttree.DefaultMeter(), nil)
	s := *lib.Scenarios["bright-over-the-sink"]
	open := lib.Faults["open-neutral"].Edits
	s.Faults = []rig.Applied{open.Ordinary(slices.IndexFunc(open.Variants, func(v rig.Variant) bool { return v.Place == faulttree.Vehicle && v.FitsIn(s.Rig) }))}
	for _, c := range []struct {
		may  []string
		held bool
	}{{nil, false}, {[]string{"main"}, false}, {s.May, true}} {
		s.May = c.may
		if v := must.Have(r.Solve(context.Background(), &s))(t); v.Held() != c.held {
			t.Errorf("where %v may be thrown: %.3f of %d pieces; want it held %v", c.may, v.Share, v.Readings, c.held)
		}
	}
}
