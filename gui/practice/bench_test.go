package practice

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

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

// What a learner works with stands in view at once, and the last readings with it.
func TestTheBenchAtAGlance(t *testing.T) {
	w := open(t, frametest.Wide)
	for _, s := range view.Scenarios(w.book) {
		for _, view := range []string{"Diagram", "Picture"} {
			try := w.toScenario(s.ID)
			w.Press(view)
			w.probe(try, try.scene.Points()[0], try.scene.Points()[1])
			seen := append(w.workedWith(), frametest.Find[*look.Values](w.Reader)[0])
			if len(seen) < 12 {
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

// workedWith is what a learner works with: the drawing, the meter and the switches.
func (w *window) workedWith() []fyne.CanvasObject {
	out := []fyne.CanvasObject{frametest.Find[*look.Surface](w.Reader)[0]}
	for _, o := range w.Pressables() {
		switch x := o.(type) {
		case *look.Check, *look.Select:
			out = append(out, o)
		case *look.Button:
			if slices.Contains([]string{"Take this reading", "Prove the meter", "Do it", "Take it back"}, x.Plain()) {
				out = append(out, o)
			}
		}
	}
	return out
}

// So it does with a step that is proposed, with a hint, and after the repair.
func TestHelpLeavesTheMeterInView(t *testing.T) {
	for _, id := range []string{"bright-over-the-sink", "supper-on-the-adapter", "lamps-like-candles"} {
		for _, level := range []string{"Step by step", "With help at hand", "On my own"} {
			w := open(t, frametest.Wide)
			w.Go(place.Scenario(id))
			w.Press(level)
			help := "Say first what the step"
			switch level {
			case "With help at hand":
				w.Press("A hint")
				help = "That makes 1 hint"
			case "On my own":
				try := w.area.practice.tries[keyOf(place.Scenario(id))]
				w.Press("Prove the meter")
				w.concludeOnly(try, try.c.Faults[0].Fault.ID)
				w.Press("Have it repaired")
				help = "Repaired as you concluded"
			}
			w.Want(help)
			if w.Said() != "" {
				t.Errorf("%s, %s: it is said over the page: %s", id, level, w.Said())
			}
			seen := append(w.workedWith(), frametest.Find[*look.Values](w.Reader)[0])
			if len(seen) < 12 {
				t.Fatalf("%s, %s: %d things to work with", id, level, len(seen))
			}
			for _, o := range seen {
				if foot := fyne.CurrentApp().Driver().AbsolutePositionForObject(o).Y + o.Size().Height; foot > frametest.Wide.Height {
					t.Errorf("%s, %s: %T reaches %v of %v", id, level, o, foot, frametest.Wide.Height)
				}
			}
		}
	}
}

// In a narrow window the display, what reads it and what answers a question stand in view
// however far the page is scrolled, with help above the drawing as without.
func TestTheMeterStaysInViewInANarrowWindow(t *testing.T) {
	for _, size := range []fyne.Size{frametest.Small, fyne.NewSize(700, 900)} {
		for _, level := range []string{"On my own", "With help at hand", "Step by step"} {
			w := open(t, size)
			w.Go(place.Scenario("bright-over-the-sink"))
			w.Press(level)
			b := w.area.practice.tries[keyOf(place.Scenario("bright-over-the-sink"))].bench
			for _, o := range []fyne.CanvasObject{b.display, b.note, b.take, b.prove, b.confirm, b.leave, b.back} {
				at := fyne.CurrentApp().Driver().AbsolutePositionForObject(o)
				if foot := at.Y + o.Size().Height; at.Y < size.Height/2 || foot > size.Height {
					t.Errorf("%v, %s: %T stands from %v to %v of %v", size, level, o, at.Y, foot, size.Height)
				}
			}
			if drawn := fyne.CurrentApp().Driver().AbsolutePositionForObject(b.drawing).Y; level == "On my own" && drawn > size.Height/2 {
				t.Errorf("%v: the drawing begins at %v", size, drawn)
			}
		}
	}
}

// A neutral that stands off the ground of its place is a danger wherever it is read: at a
// receptacle with hot and neutral exchanged it has all of the line.
func TestALiveNeutralIsADanger(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("a-post-like-any-other")
	for _, name := range []string{"The pedestal's breaker", "The plug in the pedestal"} {
		w.Check(name, false)
		w.Press("Do it")
	}
	w.Check("The pedestal's breaker", true)
	w.Press("Do it")
	w.Choose("Have the site's 150 A breaker reset")
	w.Press("Do it")
	w.probe(try, "pedestal.n", "pedestal.g")
	w.Want("DANGER: Pedestal neutral stands " + try.last.Shown + " from pedestal ground")
}

// A breaker that trips is told at that moment, in words and in both drawings, as long as
// it stands open, and once in what was done. With the plug out it stays open, until its
// switch, or an act of its own, resets it.
func TestATripIsTold(t *testing.T) {
	reset := map[string]string{"the-new-cooler-did-it": "", "the-button-that-jumps-back": "Reset the outlet's ground-fault device", "a-post-like-any-other": "Have the site's 150 A breaker reset"}
	for scenario, device := range map[string]string{"the-new-cooler-did-it": "the pedestal's 30 A breaker", "the-button-that-jumps-back": "the outlet's ground-fault device", "a-post-like-any-other": "the site's 150 A breaker"} {
		w := open(t, frametest.Wide)
		try := w.toScenario(scenario)
		drawn := func() (out []string) {
			for _, picture := range []string{"Diagram", "Picture"} {
				w.Press(picture)
				d := try.bench.surface.Draw(try.bench.state())
				for _, item := range d.Items {
					if text, ok := item.(figure.Text); ok && strings.Contains(text.Value, "ripped") {
						out = append(out, picture)
						break
					}
				}
				if strings.Contains(d.Description, "Tripped: "+device) {
					out = append(out, "words")
				}
			}
			return out
		}
		want := []string{"Diagram", "words", "Picture", "words"}
		if strings.HasPrefix(device, "the site's") { // it is far off: neither drawing reaches so far
			want = []string{"words", "words"}
		}
		wantTripped := func(when string, tripped bool) {
			t.Helper()
			if got := drawn(); tripped && !slices.Equal(got, want) || !tripped && got != nil {
				t.Errorf("%s, %s: drawn in %q; want %q", scenario, when, got, want)
			}
			if note := try.bench.note.Plain(); strings.Contains(note, "Tripped: "+device+".") != tripped {
				t.Errorf("%s, %s: it says %q", scenario, when, note)
			}
		}
		wantTripped("as it was brought", true)
		w.Check("The pedestal's breaker", false)
		w.Press("Do it")
		w.Check("The plug in the pedestal", false)
		w.Press("Do it")
		w.Check("The pedestal's breaker", true)
		w.Press("Do it")
		wantTripped("the plug out", reset[scenario] != "")
		if reset[scenario] != "" {
			w.Choose(reset[scenario])
			w.Want(reset[scenario][1:] + "?")
			w.Press("Do it")
		}
		wantTripped("reset", false)
		w.Check("The plug in the pedestal", true)
		w.Want("ush in the plug")
		w.Press("Do it")
		wantTripped("plugged in again", true)
		acts := try.attempt().Acts
		if last := acts[len(acts)-1]; len(last.Trips) != 1 || len(acts[0].Trips) > 0 {
			t.Errorf("%s: on record are %+v", scenario, acts)
		}
		rows := actRows(try)
		if got := rows[len(rows)-1].Text; got != "in; tripped: "+device {
			t.Errorf("%s: among what was done it says %q", scenario, got)
		}
		w.probe(try, "panel.l1", "panel.n")
		wantTripped("at the next reading", true)
	}
}

// A number that is held stays on the display, in its colour, whatever is done and refused
// meanwhile.
func TestAHeldNumberStays(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("bright-over-the-sink")
	w.probe(try, "panel.l2", "panel.n")
	number := try.last.Shown
	w.Check("Hold", true)
	stays := func(after string) {
		t.Helper()
		if got, red := try.bench.display.Plain(), try.bench.shown.Fill; got != number+"   H" || red != look.ColorDanger {
			t.Errorf("%s the display shows %q on %q; want %q in red", after, got, red, number)
		}
	}
	stays("held,")
	w.probe(try, "pedestal.l1", "pedestal.n")
	w.Want("is in the way")
	stays("after a reading that was refused")
	try.bench.put(figure.BlackProbe, "")
	stays("with a probe lifted")
	w.Check("The vehicle's main breaker", false)
	w.Press("Do it")
	stays("after a switch")
	w.Check("Hold", false)
	if got := try.bench.display.Plain(); strings.Contains(got, number) {
		t.Errorf("let go, it shows %q", got)
	}
}
