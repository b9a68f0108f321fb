package practice

import (
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/test"

	"faultwright/content/figure"
	"faultwright/faulttree/practice"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

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
		if w.Window().Canvas().Focused() != fyne.Focusable(f) {
			t.Errorf("%s: after a drag the keyboard is at %T", view, w.Window().Canvas().Focused())
		}
		w.Window().Canvas().Focus(try.bench.prove)
		f.Tapped(&fyne.PointEvent{Position: fyne.NewPos(4, 4)})
		if w.Window().Canvas().Focused() != fyne.Focusable(f) {
			t.Errorf("%s: after a tap on the drawing the keyboard is at %T", view, w.Window().Canvas().Focused())
		}
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

// A button that is switched off by its own press does not keep the keyboard: it goes back
// to what asked, or to the drawing, and not on from the end of the page.
func TestKeyboardLeavesAButtonThatIsOff(t *testing.T) {
	w := open(t, frametest.Wide)
	try := w.toScenario("bright-over-the-sink")
	canvas := w.Window().Canvas()
	b := try.bench
	breaker := b.switches[0].box
	canvas.Focus(breaker)
	w.Key(fyne.KeyReturn)
	canvas.Focus(b.confirm)
	w.Key(fyne.KeyReturn)
	if canvas.Focused() != fyne.Focusable(breaker) || breaker.Checked {
		t.Errorf("after an act that was asked the keyboard is at %T; the breaker is on: %v", canvas.Focused(), breaker.Checked)
	}
	canvas.Focus(b.back)
	w.Key(fyne.KeyReturn)
	if f, off := canvas.Focused().(fyne.Disableable); f == nil || off && f.Disabled() || !breaker.Checked {
		t.Errorf("after it was taken back the keyboard is at %T; the breaker is on: %v", canvas.Focused(), breaker.Checked)
	}
	w.Go(place.Scenario("lamps-like-candles"))
	w.Press("Step by step")
	w.Choose("from 12.4 V to 13 V")
	w.Choose("The meter can be trusted")
	b = w.area.practice.tries[keyOf(place.Scenario("lamps-like-candles"))].bench
	canvas.Focus(b.prove)
	w.Key(fyne.KeyReturn)
	if canvas.Focused() != fyne.Focusable(b.drawing) {
		t.Errorf("after a reading that waits for the next step the keyboard is at %T", canvas.Focused())
	}
}
