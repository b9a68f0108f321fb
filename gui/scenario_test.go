package gui

import (
	"os"
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/gui/look"
)

// toScenario shows a scenario of the shipped handbook.
func (d *Desk) toScenario(t *testing.T, id string) *trying {
	t.Helper()
	d.Go(Location{Page: pageScenario, ID: id})
	try := d.practice.tries[id]
	if try == nil {
		t.Fatalf("no scenario is shown:\n%s", d.shown())
	}
	return try
}

// probe puts the probes on two points by the lists and takes the reading.
func (d *Desk) probe(t *testing.T, try *trying, red, black string) {
	t.Helper()
	lists := find[*look.Select](d)
	for i, id := range []string{red, black} {
		title := view.Capital(try.scene.PointTitle(id))
		at := -1
		for k, o := range lists[i].Options {
			if o == title {
				at = k
			}
		}
		if at < 0 {
			t.Fatalf("no probe can be put on %s", title)
		}
		lists[i].SetSelectedIndex(at)
	}
	d.press(t, "Take this reading")
}

func (d *Desk) check(t *testing.T, text string, on bool) {
	t.Helper()
	for _, c := range find[*look.Check](d) {
		if strings.HasPrefix(c.Text, text) {
			c.SetChecked(on)
			return
		}
	}
	t.Fatalf("nothing to check says %q:\n%s", text, d.shown())
}

func TestStoryPractises(t *testing.T) {
	d := shippedDesk(t, wide)
	d.press(t, "Practice")
	d.wantShown(t, "Somebody tells what their vehicle does")
	d.press(t, "A buzz in the knuckles")
	try := d.toScenario(t, "buzz-after-the-rain")
	if text := d.shown(); strings.Contains(text, try.scenario.Answer) {
		t.Error("the answer is shown before anything was named")
	}
	d.press(t, "Prove it on a live source")
	d.wantShown(t, "120.0 V")
	d.probe(t, try, "body", "earth")
	if a := try.last; !a.Numeric() || a.Reading().Low < 45*faulttree.One {
		t.Errorf("the body reads %s; expected about half of line, circuit arithmetic", a.Shown)
	}
	d.wantShown(t, try.last.Shown)
	d.press(t, "Walk the tree beside it")
	if d.Here().Page != pageTree {
		t.Errorf("the tree is at %+v", d.Here())
	}
	d.press(t, "Practice") // back to the vehicle
	d.wantShown(t, "Body to earth")
	d.probe(t, try, "pedestal.l1", "pedestal.n")
	d.wantShown(t, "is in the way")
	d.check(t, "The plug in the pedestal", false) // with the breaker on
	d.chooseIn(t, "The grounding conductor is open")
	d.press(t, "Name it and see")
	d.wantShown(t, "You found it")
	d.wantShown(t, "A plug was pushed or pulled")
	d.wantShown(t, "You took 2 readings.")
	d.wantShown(t, "Nothing is wrong")
	d.wantShown(t, try.scenario.Answer)
	d.Go(Location{Page: pageScenarios})
	d.wantShown(t, "Found, with 2 readings.")
	d.press(t, "A buzz in the knuckles")
	d.press(t, "Begin again")
	d.wantShown(t, "Done so far: nothing yet")
}

func TestPractiseByKeyboard(t *testing.T) {
	d := shippedDesk(t, wide)
	d.Go(Location{Page: pageScenarios})
	d.typeIn(t, "1")
	if d.Here().Page != pageScenario {
		t.Fatalf("the digit leads to %+v", d.Here())
	}
	if d.window.Canvas().Focused() == nil {
		t.Fatal("nothing has the keyboard")
	}
	seen := map[fyne.Focusable]bool{}
	var labels []string
	for range 60 {
		f := d.window.Canvas().Focused()
		if f == nil || seen[f] {
			break
		}
		seen[f] = true
		if named, ok := f.(interface{ Plain() string }); ok {
			labels = append(labels, named.Plain())
		}
		d.window.Canvas().FocusNext()
	}
	all := strings.Join(labels, "\n")
	for _, want := range []string{"Prove it on a live source", "AC volts", "Hold: off", "The plug in the pedestal: on", "Other scenarios"} {
		if !strings.Contains(all, want) {
			t.Errorf("the keyboard does not reach %q; it reaches\n%s", want, all)
		}
	}
}

func TestScenarioFromAFile(t *testing.T) {
	d := shippedDesk(t, wide)
	text, err := os.ReadFile(filepath.Join("..", "content", "handbook", "scenarios", "supper-on-the-adapter.md"))
	if err != nil {
		t.Fatal(err)
	}
	handed := strings.ReplaceAll(string(text), "supper-on-the-adapter", "lesson-four")
	d.takeScenario("lesson-four.md", strings.NewReader(handed))
	if at := d.Here(); at.Page != pageScenario || at.ID != "lesson-four" {
		t.Fatalf("the file leads to %+v:\n%s", at, d.shown())
	}
	d.wantShown(t, "Supper on the adapter")
	d.Go(Location{Page: pageScenarios})
	d.takeScenario("broken.md", strings.NewReader("---\nscenario: broken\nrig: no-such-rig\n---\nA story.\n"))
	if !strings.Contains(d.shell.note, "can not be played") {
		t.Errorf("of a broken file it says %q", d.shell.note)
	}
	d.takeScenario("huge.md", strings.NewReader(strings.Repeat("x", mostScenario+1)))
	if !strings.Contains(d.shell.note, "is larger than") {
		t.Errorf("of a huge file it says %q", d.shell.note)
	}
}

// solve names the truth of a scenario after a few readings.
func (d *Desk) solve(t *testing.T, id string, readings ...[2]string) {
	t.Helper()
	try := d.toScenario(t, id)
	d.press(t, "Prove it on a live source")
	for _, r := range readings {
		d.probe(t, try, r[0], r[1])
	}
	d.chooseIn(t, view.FaultTitle(d.book, try.c.Truth()[0]))
	d.press(t, "Name it and see")
}

// Every shipped scenario can be found: what its maker hid explains what the
// meter shows, and naming it is right. No number here is from outside.
func TestEveryScenarioCanBeFound(t *testing.T) {
	d := shippedDesk(t, wide)
	sound, mistakes, rigs := 0, 0, map[string]bool{}
	for _, s := range view.Scenarios(d.book) {
		d.solve(t, s.ID)
		d.wantShown(t, "You found it")
		c := d.practice.tries[s.ID].c
		if len(c.Faults) == 0 {
			sound++
		}
		if len(s.Meter) > 0 {
			mistakes++
			if len(c.Faults) != len(s.Faults)+len(s.Meter) {
				t.Errorf("%s: the catalogue lacks a mistake of the meter among %v", s.ID, s.Meter)
			}
		}
		rigs[s.Rig.ID] = true
		if c.Truth()[0] == practice.NoFault && len(s.Faults) > 0 {
			t.Errorf("%s has faults and nothing to find", s.ID)
		}
	}
	if n := len(d.book.Scenarios); n < 10 || sound < 2 || mistakes < 2 || len(rigs) < 5 {
		t.Errorf("%d scenarios, %d sound, %d with a mistake of the meter, on %d rigs", n, sound, mistakes, len(rigs))
	}
}

var practiceScenes = []shot{
	{"list", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageScenarios}) }},
	{"before", func(t *testing.T, d *Desk) { d.toScenario(t, "bright-over-the-sink") }},
	{"under-way", func(t *testing.T, d *Desk) {
		try := d.toScenario(t, "bright-over-the-sink")
		d.press(t, "Prove it on a live source")
		d.probe(t, try, "body", "earth")
		d.probe(t, try, "panel.l1", "panel.n")
		d.probe(t, try, "panel.l2", "panel.n")
	}},
	{"after", func(t *testing.T, d *Desk) {
		d.solve(t, "bright-over-the-sink", [2]string{"body", "earth"}, [2]string{"panel.l1", "panel.n"}, [2]string{"panel.l2", "panel.n"}, [2]string{"panel.l1", "panel.l2"})
	}},
	{"after-wrong", func(t *testing.T, d *Desk) {
		try := d.toScenario(t, "buzz-after-the-rain")
		d.probe(t, try, "panel.l1", "panel.n")
		d.chooseIn(t, "Nothing is wrong")
		d.press(t, "Name it and see")
	}},
	{"house", func(t *testing.T, d *Desk) {
		try := d.toScenario(t, "lamps-like-candles")
		d.probe(t, try, "battery.pos", "battery.neg")
	}},
	{"house-after", func(t *testing.T, d *Desk) {
		d.solve(t, "lamps-like-candles", [2]string{"battery.pos", "battery.neg"}, [2]string{"dc.pos", "dc.neg"})
	}},
}

// The pages of practice draw in every mode and at every size.
func TestPracticePictures(t *testing.T) {
	for _, v := range []showing{
		{"light", look.Light, fyne.NewSize(1280, 1800)}, {"dark", look.Dark, fyne.NewSize(1280, 1800)}, {"narrow", look.Light, fyne.NewSize(480, 3000)},
	} {
		for _, s := range practiceScenes {
			if *pictures == "" && (v.mode != look.Light || s.name != "after" && s.name != "under-way") {
				continue
			}
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				d := shippedDesk(t, v.size)
				d.set(func(s *Settings) { s.Mode = v.mode })
				s.lead(t, d)
				d.picture(t, "practice-"+v.name+"-"+s.name)
				look.Walk(d.window.Content(), func(o fyne.CanvasObject) bool {
					if p, ok := o.(*look.Prose); ok {
						if right := fyne.CurrentApp().Driver().AbsolutePositionForObject(p).X + p.Size().Width; right > v.size.Width+1 {
							t.Errorf("“%s” reaches %v", p.Plain(), right)
						}
					}
					return true
				})
			})
		}
	}
}
