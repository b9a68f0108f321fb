package practice

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view/scenes"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// Step by step: each step is proposed with its reason, and no reading is taken
// before it was said what it will read and what that tells. Both are on record.
func TestStepByStep(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Go(place.Scenario("lamps-like-candles"))
	w.Press("Step by step")
	try := w.area.practice.tries[keyOf(place.Scenario("lamps-like-candles"))]
	w.Want("Prove the meter on a battery", "Say first what the step")
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
	if !step.Reads || strings.Contains(step.Text(), try.scenario.Answer) || len(step.Tells) < 3 {
		t.Errorf("the next step is %+v", step)
	}
	w.Want(step.Text())
}

// With help at hand a hint says what to read next and why, and is counted; on
// one's own there is none, nor the walk beside it.
func TestHintsAreCounted(t *testing.T) {
	w := open(t, frametest.Wide)
	w.toScenario("lamps-like-candles")
	if text := w.Text(); strings.Contains(text, "A hint") || strings.Contains(text, "Take the walk") {
		t.Errorf("on one's own there is help:\n%s", text)
	}
	w.area.again(w.area.practice.tries[keyOf(place.Scenario("lamps-like-candles"))])
	w.Press("With help at hand")
	try := w.area.practice.tries[keyOf(place.Scenario("lamps-like-candles"))]
	w.Press("A hint")
	w.Want("Hint: Prove the meter", "That makes 1 hint.")
	w.Press("Prove the meter")
	w.Press("A hint")
	w.Want("That makes 2 hints.")
	if h := try.attempt().Hints; len(h) != 2 || h[1].After != 1 || strings.Contains(try.help.hint, "bad connection in the cable") {
		t.Errorf("hints on record: %+v; the last is %q", h, try.help.hint)
	}
}

// What is foreseen of a step stays while the vehicle is brought to where it is read, the
// keyboard stays where it is, and the step says what is still to be done.
func TestForeseenStaysUntilTheReading(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Go(place.Scenario("lamps-like-candles"))
	w.Press("Step by step")
	try := w.area.practice.tries[keyOf(place.Scenario("lamps-like-candles"))]
	w.Choose("from 12.4 V to 13 V")
	w.Choose("The meter can be trusted")
	w.Press("Prove the meter")
	step := try.help.step
	if !strings.Contains(step.What, "loads on") || strings.Contains(step.How, "turn on") {
		t.Fatalf("the step is %+v", step)
	}
	w.Choose("from 11.8 V to 12.4 V")
	w.Choose("It tells nothing by itself")
	var loads *look.Check
	for _, c := range frametest.Find[*look.Check](w.Reader) {
		if c.Text == "Loads on 12 V" {
			loads = c
		}
	}
	canvas := w.Window().Canvas()
	canvas.Focus(loads)
	loads.TypedKey(&fyne.KeyEvent{Name: fyne.KeyReturn})
	w.Type("y")
	if loads.Checked || canvas.Focused() != fyne.Focusable(loads) {
		t.Errorf("the loads are on: %v; the keyboard is at %T", loads.Checked, canvas.Focused())
	}
	if h := try.help; h.step.What != step.What || h.expects == 0 || h.tells == 0 {
		t.Errorf("of %q nothing is foreseen any more: %+v", step.What, h)
	}
	w.Want("turn on the loads on 12 V", "from 11.8 V to 12.4 V")
	w.probe(try, "dc.pos", "dc.neg")
	if h := try.help; h.expects != 0 || len(try.attempt().Predictions) != 2 {
		t.Errorf("after the reading %+v is foreseen; on record %+v", h, try.attempt().Predictions)
	}
}

// What was foreseen of one reading is not said under another, nor is anything foreseen
// after the conclusion. The look back says what was expected, where it was concluded and
// what, and that it was repaired.
func TestLookBackOnAStepByStepAttempt(t *testing.T) {
	w := open(t, frametest.Wide)
	w.Go(place.Scenario("lamps-like-candles"))
	w.Press("Step by step")
	try := w.area.practice.tries[keyOf(place.Scenario("lamps-like-candles"))]
	for range 2 {
		w.Choose("from 12.4 V to 13 V")
		w.Choose(try.help.step.Tells[0])
		if len(try.attempt().Acts) > 0 {
			break // said, and then not read
		}
		w.Press("Prove the meter")
	}
	w.concludeOnly(try, "dc-high-resistance")
	w.Press("Have it repaired")
	w.probe(try, "battery.pos", "battery.neg")
	if text := w.Text(); strings.Contains(text, "You expected") {
		t.Errorf("under %s stands what was expected of another:\n%s", try.last.Shown, text)
	}
	if n := len(try.attempt().Predictions); n != 1 {
		t.Errorf("%d are foreseen", n)
	}
	w.Press("Look back")
	w.Want("Expected: from 12.4 V to 13 V. It would tell: The meter can be trusted", "Concluded: "+scenes.FaultTitle(w.book, "dc-high-resistance"), "What was concluded is put right")
}
