package practice

import (
	"bytes"
	"fmt"
	"io"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"sync"
	"testing"
	"time"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/test"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/practice/store"
	"faultwright/faulttree/rig"
	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// window is the pages of practice over the shipped handbook, with a reader at
// them.
type window struct {
	*frame.Frame
	*frametest.Reader
	t    testing.TB
	area *Area
	book *content.Library
}

var shipped = sync.OnceValue(load.Shipped)

// open opens a window over a handbook without a rubric: marks take a while.
func open(t testing.TB, size fyne.Size) *window {
	t.Helper()
	return openWith(t, size, session.Options{}, unmarked())
}

// unmarked is the shipped handbook without its rubric.
var unmarked = sync.OnceValue(func() *content.Library {
	lib := *shipped()
	lib.Rubric = nil
	return &lib
})

func openWith(t testing.TB, size fyne.Size, o session.Options, book *content.Library) *window {
	t.Helper()
	if o.Now == nil {
		o.Now = func() time.Time { return time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC) }
	}
	o.Random = func() uint64 { return 7 }
	s, err := session.New(o)
	if err != nil {
		t.Fatal(err)
	}
	s.UseBook(book)
	w := &window{t: t, book: s.Book()}
	rail := []frame.RailEntry{{Name: "Practice", Open: func() {
		if at, ok := w.area.UnderWay(); ok {
			w.Go(at)
		}
	}}}
	w.Frame, w.Reader = frametest.Open(t, size, frame.Options{Rail: rail}, place.Scenarios(), func(f *frame.Frame) {
		w.area = New(f, s)
		f.Add(w.area.Pages(""))
	})
	return w
}

// toScenario shows a scenario of the shipped handbook.
func (w *window) toScenario(id string) *trying {
	w.t.Helper()
	w.Go(place.Scenario(id))
	try := w.area.practice.tries[id]
	if try == nil {
		w.t.Fatalf("no scenario is shown:\n%s", w.Text())
	}
	if try.phase == beginning {
		w.Press("On my own")
	}
	return try
}

// probe puts the probes on two points by the lists and takes the reading.
func (w *window) probe(try *trying, red, black string) {
	w.t.Helper()
	lists := frametest.Find[*look.Select](w.Reader)
	for i, id := range []string{red, black} {
		title := scenes.PointName(id)
		at := -1
		for k, o := range lists[i].Options {
			if o == title {
				at = k
			}
		}
		if at < 0 {
			w.t.Fatalf("no probe can be put on %s", title)
		}
		lists[i].SetSelectedIndex(at)
	}
	w.Press("Take this reading")
	w.Press("Do it") // where it is asked: up the step, a hand on the body
}

func TestStoryPractises(t *testing.T) {
	w := openWith(t, frametest.Wide, session.Options{}, shipped())
	w.Press("Practice")
	w.Want("Somebody tells what their vehicle does")
	w.Press("A buzz in the knuckles")
	w.Press("With help at hand")
	try := w.area.practice.tries["buzz-after-the-rain"]
	if text := w.Text(); strings.Contains(text, try.scenario.Answer) {
		t.Error("the answer is shown before anything was named")
	}
	w.Press("Prove the meter")
	w.Want("120.0 V")
	w.probe(try, "body", "earth")
	if a := try.last; !a.Numeric() || a.Reading().Low < 45*faulttree.One {
		t.Errorf("the body reads %s; expected about half of line, circuit arithmetic", a.Shown)
	}
	w.Want(try.last.Shown)
	w.Press("Take the walk beside it")
	if w.Here().Page != place.WalkPage {
		t.Errorf("the tree is at %+v", w.Here())
	}
	w.Press("Practice") // back to the vehicle
	w.Want("Body to earth")
	w.probe(try, "pedestal.l1", "pedestal.n")
	w.Want("is in the way")
	w.Check("The plug in the pedestal", false) // with the breaker on
	w.Want("Pull out the plug")
	w.Press("Do it")
	w.conclude(try, "open-ground")
	w.Want("It is so, but it was a guess")
	w.Want("In act 3 the plug in the pedestal was pulled with the breaker ahead of it on", "Read why", strings.ToUpper("Your marks, each with its reason"))
	w.Want("Nothing is wrong")
	w.Want(try.scenario.Answer)
	w.Go(place.Scenarios())
	if text := w.Text(); strings.Contains(text, "Found, with") {
		t.Error("the list tells what somebody found")
	}
	w.Want("Practised before. It begins anew.")
	w.Press("A buzz in the knuckles") // opens without its answer: others use this computer too
	if text := w.Text(); strings.Contains(text, try.scenario.Answer) {
		t.Error("the answer opens by itself")
	}
	w.Press("On my own")
	w.Want("Done so far: nothing yet")
}

// Whatever the meter says, and whatever is plugged or thrown, nothing to press
// moves: a click meant for one thing never meets another.
func TestPracticeKeepsItsPlaces(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Wide, frametest.Middle, frametest.Small} {
		w := open(t, size)
		try := w.toScenario("bright-over-the-sink")
		all := w.Pressables()
		all = all[:slices.IndexFunc(all, func(o fyne.CanvasObject) bool { c, ok := o.(*look.Select); return ok && c.PlaceHolder != "none" })]
		all = slices.DeleteFunc(all, func(o fyne.CanvasObject) bool { // the ranges are others with each function
			c, ok := o.(*look.Select)
			return ok && c.Selected == "automatic"
		})
		all = slices.DeleteFunc(all, func(o fyne.CanvasObject) bool { // the story opens over all of it
			c, ok := o.(*look.Nav)
			return ok && c.Plain() == "The story again"
		})
		hurt, covered := false, false
		steady := func(what string, do func()) {
			t.Helper()
			w.WantSteady(fmt.Sprintf("%v, %s", size, what), all, do)
			hurt, covered = hurt || try.last.Hazard, covered || try.last.Kind == practice.Reject
		}
		press := func() {
			for _, o := range all {
				switch o := o.(type) {
				case *look.Check:
					look.Reveal(o)
					for range 2 {
						steady(o.Plain(), func() { test.Tap(o) })
						steady("do it", func() { w.Press("Do it") })
						steady("take it back", func() { w.Press("Take it back") })
					}
				case *look.Nav:
					steady(o.Plain(), func() { o.Tapped(nil) })
				case *look.Select:
					for i, function := range o.Options {
						if !slices.Contains(o.Options, "Ohms") {
							break // a list of test points
						}
						steady(function, func() { o.SetSelectedIndex(i) })
						steady("take it", func() { w.Press("Take this reading") })
						steady("prove it", func() { w.Press("Prove the meter") })
					}
				}
			}
		}
		press()
		for _, points := range [][2]string{{"body", "earth"}, {"panel.l1", "panel.n"}, {"pedestal.l1", "pedestal.n"}} {
			steady(points[0], func() { w.probe(try, points[0], points[1]) })
			press()
		}
		if !hurt || !covered {
			t.Error("no long note came that could have moved them")
		}
	}
}

// What touches or changes the vehicle is asked before it is booked: a press, and a
// second one on the same thing, book nothing. A slip is taken back at once.
func TestTouchingIsAsked(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("buzz-after-the-rain")
	acts := func(n int, what string) {
		t.Helper()
		if len(try.attempt().Acts) != n {
			t.Fatalf("%s: %d acts are booked, want %d: %+v", what, len(try.attempt().Acts), n, try.attempt().Acts)
		}
	}
	box := func() *look.Check {
		for _, c := range frametest.Find[*look.Check](w.Reader) {
			if strings.HasPrefix(c.Text, "The plug in the pedestal") {
				return c
			}
		}
		t.Fatal("no plug")
		return nil
	}
	test.Tap(box())
	w.Want("Pull out the plug in the pedestal?")
	test.Tap(box())
	acts(0, "asked twice")
	if !box().Checked {
		t.Error("the box shows what is only asked")
	}
	w.Press("Leave it")
	acts(0, "left")
	test.Tap(box())
	w.Type("y") // from wherever the keyboard is
	acts(1, "done")
	if box().Checked || try.attempt().Acts[0].Kind != practice.Throw || !try.attempt().Acts[0].Asked {
		t.Errorf("pulled: %+v", try.attempt().Acts)
	}
	w.Press("Take it back")
	acts(2, "taken back")
	if !box().Checked || try.attempt().Acts[1].Kind != practice.TakeBack {
		t.Errorf("taken back: %+v", try.attempt().Acts)
	}
	lists := frametest.Find[*look.Select](w.Reader)
	lists[0].SetSelectedIndex(slices.Index(lists[0].Options, "Panel L1"))
	lists[1].SetSelectedIndex(slices.Index(lists[1].Options, "Panel neutral"))
	w.Press("Take this reading")
	w.Want("Up the step, a hand on the body?")
	w.Press("Take this reading")
	acts(2, "a reading inside")
	w.Press("Do it")
	acts(4, "up the step, and read")
	w.Press("Take it back")
	acts(4, "what was read stays")
}

// Ohms on a live circuit tell nothing but the flash; a fuse that blew says so
// until it is changed; another cord can be tried.
func TestConsequencesAndInterventions(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("bright-over-the-sink")
	w.Choose("Ohms")
	w.probe(try, "panel.l1", "panel.n")
	w.Want("DANGER: A flash")
	if try.last.Shown != "" {
		t.Errorf("ohms on a live circuit show %q", try.last.Shown)
	}
	w.Choose("AC volts")
	w.Check("Red lead in ampere jack", true)
	w.probe(try, "panel.l1", "panel.l2")
	if !try.v.FuseBlown() {
		t.Fatal("the fuse holds")
	}
	w.Choose("AC amps, clamp")
	w.Check("Red lead in ampere jack", false)
	w.Press("Take this reading")
	w.Want("The meter's fuse is blown")
	w.Choose("A new fuse in the meter")
	w.Want("Put a new fuse into the meter?")
	w.Press("Do it")
	if try.v.FuseBlown() {
		t.Error("the fuse was not changed")
	}
	for _, name := range []string{"The pedestal's breaker", "The plug in the pedestal", "The cord in the vehicle's inlet"} {
		w.Check(name, false)
		w.Press("Do it")
	}
	w.Choose("Another cord in place of it")
	w.Want("Another cord in place of it?", "plug out before the cords are exchanged")
	w.Press("Do it")
	if !try.v.Tried("another-cord") {
		t.Errorf("no other cord is in:\n%s", w.Text())
	}
	for _, name := range []string{"The cord in the vehicle's inlet", "The plug in the pedestal", "The pedestal's breaker"} {
		w.Check(name, true)
		w.Press("Do it")
	}
	w.Choose("AC volts")
	w.probe(try, "panel.l2", "panel.n")
	if volts := try.last.Reading().Low; volts > 130*faulttree.One {
		t.Errorf("with another cord L2 still reads %s", try.last.Shown)
	}
}

// A voltage that burns what is switched on there is coloured as a danger, with a
// sentence why, while it is measured and in the look back. 140 V is the handbook's
// limit.
func TestTooManyVoltsAreADanger(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("bright-over-the-sink")
	w.probe(try, "panel.l1", "panel.n")
	if strings.Contains(w.Text(), "DANGER") {
		t.Errorf("59 V on a leg is a danger:\n%s", w.Text())
	}
	w.probe(try, "panel.l2", "panel.n")
	w.Want("DANGER: L2 to neutral, panel, stands at "+try.last.Shown, "from 140 V on, what is switched on there burns")
	red := false
	for _, p := range frametest.Find[*look.Panel](w.Reader) {
		red = red || p.Fill == look.ColorDanger
	}
	if !red {
		t.Error("the display is not red")
	}
	w.conclude(try, "open-neutral")
	w.Want("L2 to neutral, ", "177.", "from 140 V on, what is switched on there burns")
}

// A conclusion is made by the keyboard alone: Tab, arrows, Space and Enter. What
// was repaired is read again, and then the vehicle is sound.
func TestConcludeByKeyboardAndVerify(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("bright-over-the-sink")
	w.probe(try, "panel.l2", "panel.n")
	w.Press("Conclude")
	w.Want("Say yet: what is wrong, where it sits, which readings decided, what is to be done, who repairs.")
	canvas := w.Window().Canvas()
	to := func(plain string) {
		t.Helper()
		for range 80 {
			if named, ok := canvas.Focused().(interface{ Plain() string }); ok && strings.Contains(named.Plain(), plain) {
				return
			}
			canvas.FocusNext()
		}
		t.Fatalf("the keyboard does not reach %q:\n%s", plain, w.Text())
	}
	list := frametest.Find[*look.Select](w.Reader)[0]
	for !strings.HasPrefix(list.Selected, "The neutral is open") {
		was := list.Selected
		w.Key(fyne.KeyDown)
		if next := frametest.Find[*look.Select](w.Reader)[0]; next.Selected == was {
			t.Fatalf("the arrows stay at %q", next.Selected)
		} else {
			list = next
		}
	}
	form := newConclude(w.area, try).form
	for _, x := range []string{"Cord, plug or adapter", "Panel: L2 to neutral", "Sure: the readings", "Keep it unplugged and put it out of use", form.RepairBy[0].Text} {
		to(x)
		w.Key(fyne.KeyReturn)
	}
	to("Conclude so")
	w.Key(fyne.KeyReturn)
	c := try.attempt().Conclusion
	if c == nil || c.Faults[0] != "open-neutral" || c.Place != faulttree.Cord || len(c.Deciding) != 1 || c.Sure != practice.Sure || c.Do == "" || c.RepairBy == "" {
		t.Fatalf("concluded is %+v:\n%s", c, w.Text())
	}
	to("Have it repaired")
	w.Key(fyne.KeyReturn)
	w.Want("Read again what had shown the fault")
	w.probe(try, "panel.l2", "panel.n")
	if volts := try.last.Reading().Low; volts > 130*faulttree.One || try.attempt().Repaired == 0 {
		t.Errorf("after the repair L2 reads %s; %+v", try.last.Shown, try.attempt())
	}
	w.Press("Look back")
	w.Want("The neutral is open in the cord")
}

// What is to be done is chosen from the documents of faults, the right one among
// them, in an order that tells nothing.
func TestChoicesOfAConclusion(t *testing.T) {
	w := open(t, frametest.Wide)
	for _, s := range view.Scenarios(w.book) {
		c := scenes.CaseOf(w.book, s)
		form := scenes.ConcludeOf(w.book, s, c, practice.Attempt{Case: c.ID}, practice.Conclusion{})
		for _, x := range c.Faults {
			f := w.book.Faults[x.Fault.ID]
			if f == nil || f.At(x.Fault.Variants[x.Variant].Place) == nil {
				continue
			}
			advice := f.At(x.Fault.Variants[x.Variant].Place)
			has := func(all []view.Choice, text string) bool {
				return text == "" || slices.ContainsFunc(all, func(o view.Choice) bool { return o.ID == text })
			}
			if !has(form.Do, advice.FirstAction) || !has(form.RepairBy, advice.RepairBy) {
				t.Errorf("%s: %q, %q cannot be concluded", s.ID, advice.FirstAction, advice.RepairBy)
			}
		}
		if len(form.Do) < 4 || !slices.IsSortedFunc(form.Do, func(a, b view.Choice) int { return strings.Compare(a.ID, b.ID) }) {
			t.Errorf("%s: %d choices of what is to be done", s.ID, len(form.Do))
		}
	}
}

// An attempt is on disk before its readings are shown: another window goes on with
// it where this one was. It is deleted on wish, once that is confirmed.
func TestAttemptsAreKept(t *testing.T) {
	folder := t.TempDir()
	openKept := func() *window {
		kept, err := store.Open(folder)
		if err != nil {
			t.Fatal(err)
		}
		t.Cleanup(func() { kept.Close() })
		w := openWith(t, frametest.Wide, session.Options{Practice: session.AttemptsOnDisk(kept), Now: func() time.Time { return time.Date(2026, 5, 3, 14, 30, 0, 0, time.UTC) }}, unmarked())
		return w
	}
	w := openKept()
	try := w.toScenario("buzz-after-the-rain")
	w.probe(try, "body", "earth")
	shown := try.last.Shown
	try.left() // as when the window is closed or killed: nothing more is written
	w = openKept()
	w.Go(place.Scenario("buzz-after-the-rain"))
	w.Want("1 reading · not ended")
	w.Press("Go on with it")
	w.Want("Body to earth", shown)
	again := w.area.practice.tries["buzz-after-the-rain"]
	w.Press("Prove the meter")
	if n := len(again.attempt().Acts); n != 2 {
		t.Fatalf("gone on with, it has %d acts", n)
	}
	w.Press("Begin again")
	w.Press("Delete it")
	w.Want("Delete it for good", "Keep it")
	w.Press("Keep it")
	w.Want("2 readings · not ended")
	w.Press("Delete it")
	w.Press("Delete it for good")
	if strings.Contains(w.Text(), "not ended") {
		t.Errorf("deleted, it is there:\n%s", w.Text())
	}
}

// Step by step: each step is proposed with its reason, and no reading is taken
// before it was said what it will read and what that tells. Both are on record.
func TestStepByStep(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Go(place.Scenario("lamps-like-candles"))
	w.Press("Step by step")
	try := w.area.practice.tries["lamps-like-candles"]
	w.Want("Prove the meter on a battery", "Say first, above")
	w.Press("Prove the meter")
	if n := len(try.attempt().Acts); n != 0 {
		t.Fatalf("%d acts before anything was foreseen", n)
	}
	w.Choose("from 12.4 V to 13 V")
	w.Choose("The meter can be trusted")
	w.Press("Prove the meter")
	w.Want("You expected from 12.4 V to 13 V")
	a := try.attempt()
	if len(a.Acts) != 1 || len(a.Predictions) != 1 || a.Predictions[0].Before != 0 || a.Predictions[0].Tells != "The meter can be trusted" {
		t.Fatalf("on record: %+v", a)
	}
	step := try.help.step
	if !step.Reads || strings.Contains(step.Text, try.scenario.Answer) || len(step.Tells) < 3 {
		t.Errorf("the next step is %+v", step)
	}
	w.Want(step.Text)
}

// With help at hand a hint says what to read next and why, and is counted; on
// one's own there is none, nor the walk beside it.
func TestHintsAreCounted(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toScenario("lamps-like-candles")
	if text := w.Text(); strings.Contains(text, "A hint") || strings.Contains(text, "Take the walk") {
		t.Errorf("on one's own there is help:\n%s", text)
	}
	w.area.again(w.area.practice.tries["lamps-like-candles"].scenario)
	w.Press("With help at hand")
	try := w.area.practice.tries["lamps-like-candles"]
	w.Press("A hint")
	w.WantSaid("Hint: Prove the meter", "That makes 1 hint.")
	w.Press("Prove the meter")
	w.Press("A hint")
	w.WantSaid("That makes 2 hints.")
	if h := try.attempt().Hints; len(h) != 2 || h[1].After != 1 || strings.Contains(w.Said(), "bad connection in the cable") {
		t.Errorf("hints on record: %+v; said %q", h, w.Said())
	}
	t.Log(w.Said())
}

// Everything that was hidden is named in the look back and drawn: all faults, those
// that came along with them, and the mistakes with the meter.
func TestAllThatWasHidden(t *testing.T) {
	w := open(t, frametest.Wide)
	two := 0
	for _, s := range view.Scenarios(w.book) {
		c := scenes.CaseOf(w.book, s)
		named := strings.Join(scenes.HiddenWords(w.book, c), " ")
		edits := 0
		for _, a := range c.Faults {
			if !strings.Contains(named, scenes.FaultTitle(w.book, a.Fault.ID)) {
				t.Errorf("%s: %s is not named in %q", s.ID, a.Fault.ID, named)
			}
			for _, e := range a.Fault.Variants[a.Variant].Edits {
				if e.Kind != rig.Misuse {
					edits++
				}
			}
		}
		drawn := scenes.HiddenEdits(c)
		if drawn == nil && edits > 0 || drawn != nil && len(drawn.Edits) != edits {
			t.Errorf("%s: drawn are %+v of %d edits", s.ID, drawn, edits)
		}
		if len(c.Faults) > 1 {
			two++
		}
	}
	if two < 2 {
		t.Errorf("only %d scenarios hide two things", two)
	}
}

// What a learner works with stands in view at once, and the last readings with it.
func TestTheBenchAtAGlance(t *testing.T) {
	w := open(t, frametest.Wide)
	for _, s := range view.Scenarios(w.book) {
		for _, view := range []string{"Diagram", "Picture"} {
			try := w.toScenario(s.ID)
			w.Press(view)
			w.probe(try, try.scene.Points()[0], try.scene.Points()[1])
			seen := []fyne.CanvasObject{frametest.Find[*look.Surface](w.Reader)[0], frametest.Find[*look.Values](w.Reader)[0]}
			for _, o := range w.Pressables() {
				if _, ok := o.(*look.Check); ok {
					seen = append(seen, o)
				}
				if c, ok := o.(*look.Select); ok && c.PlaceHolder == "none" {
					seen = append(seen, o)
				}
			}
			if len(seen) < 8 {
				t.Fatalf("%s has %d things to work with", s.ID, len(seen))
			}
			for _, o := range seen {
				if foot := fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y + o.Size().Height; foot > frametest.Wide.Height {
					t.Errorf("%s, %s: %T reaches %v of %v", s.ID, view, o, foot, frametest.Wide.Height)
				}
			}
		}
	}
}

// A probe is put by a drag, by a tap and by the keyboard alone; Enter reads.
func TestProbesByDragTapAndKeys(t *testing.T) {
	for _, view := range []string{"Diagram", "Picture"} {
		w := open(t, frametest.Wide)
		try := w.toScenario("buzz-after-the-rain")
		w.Press(view)
		f := frametest.Find[*look.Surface](w.Reader)[0]
		plan := figure.OnelinePlan{Rig: try.c.Rig, Loads: try.c.Loads, Near: true, Width: float64(f.Size().Width - 24),
			Points: func(node string) bool { return slices.Contains(try.scene.Points(), node) }}
		drawn := surface(figure.NewOneline(plan))
		if view == "Picture" {
			drawn = figure.NewPicture(plan)
		}
		at := func(node string) fyne.Position {
			for _, s := range drawn.Spots() {
				if s.Node == node {
					return f.PositionOf(s.At)
				}
			}
			t.Fatalf("%s: %s has no spot", view, node)
			return fyne.Position{}
		}
		drag := func(from, to fyne.Position) {
			f.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: from.AddXY(2, 0)}, Dragged: fyne.NewDelta(2, 0)})
			f.Dragged(&fyne.DragEvent{PointEvent: fyne.PointEvent{Position: to}, Dragged: fyne.NewDelta(to.X-from.X-2, to.Y-from.Y)})
			f.DragEnd()
		}
		test.TapAt(f, at("body"))
		test.TapAt(f, at("earth"))
		if try.red != "body" || try.black != "earth" {
			t.Fatalf("%s: tapped, the probes are on %q and %q", view, try.red, try.black)
		}
		drag(at("body"), at("pedestal.cover"))
		if try.red != "pedestal.cover" || try.black != "earth" {
			t.Errorf("%s: dragged, the probes are on %q and %q", view, try.red, try.black)
		}
		drag(at("pedestal.cover"), fyne.NewPos(4, 4))
		if try.red != "" {
			t.Errorf("%s: let go over nothing, the red probe is on %q", view, try.red)
		}
		w.Window().Canvas().Focus(f)
		w.Type("r")
		w.Key(fyne.KeyRight)
		first := try.red
		w.Key(fyne.KeyRight)
		if first == "" || try.red == "" || try.red == first || try.black != "earth" {
			t.Errorf("%s: the arrows bring the red probe to %q and %q, the black one to %q", view, first, try.red, try.black)
		}
		w.Type("b")
		w.Key(fyne.KeyDelete)
		if try.black != "" {
			t.Errorf("%s: lifted, the black probe is on %q", view, try.black)
		}
		test.TapAt(f, at("earth"))
		w.Key(fyne.KeyReturn)
		if n := len(try.attempt().Acts); n == 0 && try.last.Kind != practice.Reject {
			t.Errorf("%s: Enter does not read", view)
		}
	}
}

func TestPractiseByKeyboard(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Go(place.Scenarios())
	w.Pick("1")
	if w.Here().Page != place.ScenarioPage {
		t.Fatalf("the digit leads to %+v", w.Here())
	}
	w.Pick("1") // on my own
	if w.Window().Canvas().Focused() == nil {
		t.Fatal("nothing has the keyboard")
	}
	seen := map[fyne.Focusable]bool{}
	var labels []string
	for range 60 {
		f := w.Window().Canvas().Focused()
		if f == nil || seen[f] {
			break
		}
		seen[f] = true
		if named, ok := f.(interface{ Plain() string }); ok {
			labels = append(labels, named.Plain())
		}
		w.Window().Canvas().FocusNext()
	}
	all := strings.Join(labels, "\n")
	for _, want := range []string{"Prove the meter", "AC volts", "Hold: off", "The plug in the pedestal: on", "Other scenarios"} {
		if !strings.Contains(all, want) {
			t.Errorf("the keyboard does not reach %q; it reaches\n%s", want, all)
		}
	}
}

func TestScenarioFromAFile(t *testing.T) {
	w := open(t, frametest.Wide)
	text, err := os.ReadFile(filepath.Join("..", "..", "content", "handbook", "scenarios", "supper-on-the-adapter.md"))
	if err != nil {
		t.Fatal(err)
	}
	handed := strings.ReplaceAll(string(text), "supper-on-the-adapter", "lesson-four")
	w.area.takeScenario("lesson-four.md", file{strings.NewReader(handed), nil})
	if at := w.Here(); at.Page != place.ScenarioPage || at.ID != "lesson-four" {
		t.Fatalf("the file leads to %+v:\n%s", at, w.Text())
	}
	w.Want("Supper on the adapter")
	w.Go(place.Scenarios())
	w.area.takeScenario("broken.md", file{strings.NewReader("---\nscenario: broken\nrig: no-such-rig\n---\nA story.\n"), nil})
	w.WantSaid("cannot be played", "broken.md:2:1: ", "lacks the key answer")
	w.area.takeScenario("huge.md", file{strings.NewReader(strings.Repeat("x", 1<<20)), nil})
	if !strings.Contains(w.Said(), "larger than") {
		t.Errorf("of a huge file it says %q", w.Said())
	}
}

// A title and the name of a file show nothing that turns the direction of the
// words around it, nor does what is said of a file.
func TestMarksOfAScenario(t *testing.T) {
	const turning = "\u202e\u2066\u200f"
	w := open(t, frametest.Wide)
	text, err := os.ReadFile(filepath.Join("..", "..", "content", "handbook", "scenarios", "supper-on-the-adapter.md"))
	if err != nil {
		t.Fatal(err)
	}
	clean := func(words string) {
		t.Helper()
		found := false
		for _, o := range test.LaidOutObjects(w.Window().Content()) {
			if drawn, ok := o.(*canvas.Text); ok {
				found = found || strings.Contains(drawn.Text, words)
				if strings.ContainsAny(drawn.Text, turning) {
					t.Errorf("%+v draws %q", w.Here(), drawn.Text)
				}
			}
		}
		if !found {
			t.Errorf("%+v does not draw %q:\n%s", w.Here(), words, w.Text())
		}
	}
	handed := strings.NewReplacer("supper-on-the-adapter", "lesson-four", "title: ", "title: "+turning).Replace(string(text))
	w.area.takeScenario(turning+"lesson.md", file{strings.NewReader(handed), func() { clean("Reading lesson.md") }})
	clean("Supper on the adapter")
	w.Go(place.Scenarios())
	w.area.takeScenario(turning+"lesson.md", file{strings.NewReader("---\nscenario: x\n---\n"), nil})
	clean("lesson.md:2:1")
}

// file is a file that was handed out; meanwhile happens while it is read.
type file struct {
	io.Reader
	meanwhile func()
}

func (f file) Close() error {
	if f.meanwhile != nil {
		f.meanwhile()
	}
	return nil
}

// The page says that a file is being read, and who leaves it is not brought to
// the scenario afterwards.
func TestLeavingStopsAScenarioFile(t *testing.T) {
	w := open(t, frametest.Wide)
	text, err := os.ReadFile(filepath.Join("..", "..", "content", "handbook", "scenarios", "supper-on-the-adapter.md"))
	if err != nil {
		t.Fatal(err)
	}
	w.area.takeScenario("lesson.md", file{bytes.NewReader(text), func() {
		w.Want(fmt.Sprintf("Reading lesson.md, %d KiB so far.", len(text)>>10))
		w.Go(place.Scenario("buzz-after-the-rain"))
	}})
	if at := w.Here(); at.ID != "buzz-after-the-rain" {
		t.Errorf("the reader was brought to %+v", at)
	}
	w.Back()
	if strings.Contains(w.Text(), "Reading lesson.md") {
		t.Error("the file is still being read")
	}
	w.area.takeScenario("lesson.md", file{bytes.NewReader(text), func() { w.Press("Stop reading it") }})
	w.WantSaid("was not read")
	if at := w.Here(); at.Page != place.ScenariosPage || strings.Contains(w.Text(), "Reading lesson.md") {
		t.Errorf("stopped, the reader is at %+v:\n%s", at, w.Text())
	}
}

// conclude concludes that it is a fault, and looks back.
func (w *window) conclude(try *trying, fault string) {
	w.t.Helper()
	w.concludeOnly(try, fault)
	w.Press("Look back without reading again")
}

// concludeOnly concludes that it is a fault, where it sits, with the first of
// everything else.
func (w *window) concludeOnly(try *trying, fault string) {
	w.t.Helper()
	w.Press("Conclude")
	w.Choose(scenes.FaultTitle(w.book, fault))
	if fault != practice.NoFault {
		place := ""
		for _, f := range try.c.Faults {
			if f.Fault.ID == fault {
				place = string(f.Fault.Variants[f.Variant].Place)
			}
		}
		if place == "" {
			place = newConclude(w.area, try).form.Places[0].ID
		}
		w.press("place" + place)
	}
	for _, box := range frametest.Find[*look.Check](w.Reader) {
		box.SetChecked(true)
		break
	}
	form := newConclude(w.area, try).form
	w.press("do" + form.Do[0].ID)
	w.press("by" + form.RepairBy[0].ID)
	w.Press("Conclude so")
}

// press chooses one of the options of the conclusion by its name.
func (w *window) press(name string) {
	w.t.Helper()
	c := newConclude(w.area, w.area.practice.tries[w.Here().ID])
	c.page()
	n, ok := c.focus[name].(*look.Nav)
	if !ok {
		w.t.Fatalf("no option %q among %v", name, c.focus)
	}
	w.Press(n.Plain())
}

// solve names the truth of a scenario after a few readings.
func (w *window) solve(id string, readings ...[2]string) {
	w.t.Helper()
	try := w.toScenario(id)
	w.Press("Prove the meter")
	for _, r := range readings {
		w.probe(try, r[0], r[1])
	}
	w.conclude(try, try.c.Truth()[0])
}

// Every shipped scenario can be found: what its maker hid explains what the
// meter shows, and naming it is right. No number here is from outside.
func TestEveryScenarioCanBeFound(t *testing.T) {
	w := open(t, frametest.Wide)
	sound, mistakes, rigs := 0, 0, map[string]bool{}
	for _, s := range view.Scenarios(w.book) {
		try := w.toScenario(s.ID)
		w.Press("Prove the meter")
		w.concludeOnly(try, try.c.Truth()[0])
		r, err := try.c.Review(try.attempt(), scenes.ReviewBook(w.book, s, try.attempt().Meter))
		if err != nil || !r.Right {
			t.Errorf("%s: its fault was named, and is not there: %v", s.ID, err)
		}
		c := w.area.practice.tries[s.ID].c
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
	if n := len(w.book.Scenarios); n < 10 || sound < 2 || mistakes < 2 || len(rigs) < 5 {
		t.Errorf("%d scenarios, %d sound, %d with a mistake of the meter, on %d rigs", n, sound, mistakes, len(rigs))
	}
}

var practiceScenes = []struct {
	name string
	lead func(w *window)
}{
	{"list", func(w *window) { w.Go(place.Scenarios()) }},
	{"before", func(w *window) { w.toScenario("bright-over-the-sink") }},
	{"under-way", func(w *window) {
		try := w.toScenario("bright-over-the-sink")
		w.Press("Prove the meter")
		w.probe(try, "body", "earth")
		w.probe(try, "panel.l1", "panel.n")
		w.probe(try, "panel.l2", "panel.n")
	}},
	{"worked", func(w *window) {
		w.Go(place.Scenario("bright-over-the-sink"))
		w.Press("Step by step")
		w.Choose("from 105 V to 127 V")
		w.Choose("The meter can be trusted")
		w.Press("Prove the meter")
	}},
	{"guided", func(w *window) {
		w.Go(place.Scenario("bright-over-the-sink"))
		w.Press("With help at hand")
		w.Press("Prove the meter")
		w.Press("A hint")
	}},
	{"asked", func(w *window) {
		w.toScenario("bright-over-the-sink")
		w.Check("The plug in the pedestal", false)
	}},
	{"begin", func(w *window) { w.Go(place.Scenario("bright-over-the-sink")) }},
	{"conclude", func(w *window) {
		try := w.toScenario("bright-over-the-sink")
		w.Press("Prove the meter")
		w.probe(try, "panel.l1", "panel.n")
		w.probe(try, "panel.l2", "panel.n")
		w.Press("Conclude")
		w.Choose("The neutral is open")
		w.press("placecord")
	}},
	{"concluded", func(w *window) {
		try := w.toScenario("bright-over-the-sink")
		w.probe(try, "panel.l2", "panel.n")
		w.concludeOnly(try, "open-neutral")
	}},
	{"picture", func(w *window) {
		try := w.toScenario("bright-over-the-sink")
		w.Press("Picture")
		w.probe(try, "panel.l1", "panel.n")
	}},
	{"picture-adapter", func(w *window) {
		w.toScenario("supper-on-the-adapter")
		w.Press("Picture")
	}},
	{"adapter", func(w *window) { w.toScenario("supper-on-the-adapter") }},
	{"picture-house", func(w *window) {
		w.toScenario("lamps-like-candles")
		w.Press("Picture")
	}},
	{"picture-van", func(w *window) {
		w.toScenario("van-coffee-at-dawn")
		w.Press("Picture")
	}},
	{"after", func(w *window) {
		w.solve("bright-over-the-sink", [2]string{"body", "earth"}, [2]string{"panel.l1", "panel.n"}, [2]string{"panel.l2", "panel.n"}, [2]string{"panel.l1", "panel.l2"})
	}},
	{"after-wrong", func(w *window) {
		try := w.toScenario("buzz-after-the-rain")
		w.probe(try, "panel.l1", "panel.n")
		w.conclude(try, practice.NoFault)
	}},
	{"house", func(w *window) {
		try := w.toScenario("lamps-like-candles")
		w.probe(try, "battery.pos", "battery.neg")
	}},
	{"house-after", func(w *window) {
		w.solve("lamps-like-candles", [2]string{"battery.pos", "battery.neg"}, [2]string{"dc.pos", "dc.neg"})
	}},
}

// The pages of practice draw in every mode and at every size.
func TestPracticePictures(t *testing.T) {
	for _, v := range []struct {
		name, colours string
		size          fyne.Size
	}{
		{"light", "light", frametest.Wide}, {"dark", "dark", frametest.Wide}, {"long", "light", fyne.NewSize(1280, 1800)}, {"narrow", "light", fyne.NewSize(480, 3000)},
	} {
		for _, s := range practiceScenes {
			if *frametest.Pictures == "" && (v.colours != "light" || s.name != "after" && s.name != "under-way") {
				continue
			}
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				book := unmarked()
				if *frametest.Pictures != "" {
					book = shipped()
				}
				w := openWith(t, v.size, session.Options{}, book)
				w.SetLook(v.colours, 1)
				s.lead(w)
				w.Picture("practice-" + v.name + "-" + s.name)
				w.WantNothingCut()
			})
		}
	}
}
