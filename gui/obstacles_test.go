package gui

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// bodyText is the text of the page without what stands beside it.
func (w *window) bodyText() string {
	var b strings.Builder
	for _, o := range w.Shown().Body {
		b.WriteString(look.TextOf(o) + "\n")
	}
	return b.String()
}

// Damage at a live step leads to DANGER and to the sheet, not to the next live
// reading; every later step and the finding still tell it.
func TestDamageIsNotGoneOnWith(t *testing.T) {
	w := open(t, wide, shipped)
	w.begin(faulttree.ParseRef("pedestal-30a#ground", ""))
	w.Press("I see damage")
	w.Want("DANGER", "Put no probe in", "plug nothing in there")
	if w.answers() != 0 {
		t.Fatal("looking at what to do has recorded something")
	}
	w.Press("Back to the reading")
	w.Press("I see damage")
	w.Pick("1")
	w.Want("The sheet for whoever repairs it")
	r := w.session.Visit().Walk().Trail()[0].Answer.Readings[0]
	if r.Quality != faulttree.NotPossible || r.Reason != "damage is seen there" {
		t.Errorf("on record is %+v", r)
	}
	w.Go(w.session.Visit().Present())
	w.Want("DANGER", "Damage was seen at “Pedestal")
	sheet := string(w.session.Sheet(w.session.Visit().Record(), 0, nil))
	if !strings.Contains(sheet, "damage is seen there") {
		t.Error("the sheet does not tell the damage")
	}
}

// Where the tree would go on after damage, the walk is over all the same: it says
// what to do, and going on is a choice of its own that no key makes.
func TestAfterDamageGoingOnIsASecondChoice(t *testing.T) {
	w := open(t, small)
	w.begin(faulttree.ParseRef("post#ground", ""))
	w.Press("I see damage")
	w.Pick("1")
	w.Want("The sheet for whoever repairs it")
	next := "From each hot contact to neutral"
	for _, key := range []string{"1", "2"} {
		w.Go(w.session.Visit().Present())
		w.Want("DANGER", "Damage was seen at “Pedestal", "Put no probe in", "This walk is over here", "Go on all the same")
		if strings.Contains(w.Text(), next) {
			t.Fatalf("the next reading is asked:\n%s", w.Text())
		}
		w.Type(key)
		w.Want("This walk is over here")
	}
	w.Press("Go on all the same")
	w.Want("DANGER", "Damage was seen at “Pedestal", next, "Take these readings")
}

// A contact that cannot be seen: how to see it, and back, with nothing recorded.
// What was typed is there at every size, and goes on where it stopped; at a chart's
// column as at a step of its own.
func TestWhatCannotBeSeenLeadsBack(t *testing.T) {
	for _, size := range []fyne.Size{wide, small} {
		for _, at := range []string{"pedestal-30a#cover", "pedestal-30a#ground"} {
			w := open(t, size, shipped)
			w.begin(faulttree.ParseRef(at, ""))
			w.Type("11")
			w.Press("I cannot see it")
			w.Want("DANGER", "Feel for nothing", "a lamp on the head")
			w.Press("Back to the reading")
			w.Want("Take this reading")
			w.Type(".4")
			if w.answers() != 0 || w.Here().Page != place.WalkPage || w.typedReading() != "11.4" {
				t.Errorf("%s at %v: %d answers at %+v, typed is %q", at, size, w.answers(), w.Here(), w.typedReading())
			}
		}
	}
}

// A reason in the reader's own words is kept on the way back to the reading; over
// an answer on record it is given, or dropped in sight.
func TestAReasonInOwnWords(t *testing.T) {
	w := open(t, small)
	w.toBody()
	id := w.session.Visit().ID()
	reason := func() *look.Field { return frametest.Find[*look.Field](w.Reader)[0] }
	w.Press("I cannot measure this")
	w.Focus(reason())
	w.Type("no soil, only rock")
	w.Press("Back")
	w.Want("Measure from bare metal of the body to the spike", "Take this reading")
	w.Type("2")
	w.Press("I cannot measure this")
	if text := reason().Text; text != "no soil, only rock" {
		t.Errorf("the reason kept is %q", text)
	}
	w.Go(place.Walk(id, 1))
	w.Press("I cannot measure this")
	w.Focus(reason())
	w.Type("the lamp went out")
	w.Press("Leave it")
	w.WantSaid("“the lamp went out” was not taken", "119.8 V")
	w.Go(place.Cannot(id, 1))
	if text := reason().Text; text != "" {
		t.Errorf("the reason that was dropped is %q", text)
	}
	w.Focus(reason())
	w.Answer("the lamp went out")
	if r := w.session.Visit().Walk().Trail()[1].Answer.Readings[0]; r.Reason != "the lamp went out" {
		t.Errorf("on record is %+v", r)
	}
}

// The danger line is one sentence; the rest opens in place, each with its page.
func TestTheOtherCautionsOpen(t *testing.T) {
	w := open(t, wide)
	w.Press("A tingle")
	w.Want("step 1 of about 3")
	w.Go(place.Opening())
	w.toBody()
	w.Want("Live supply; one hand only, the other behind the back. and 1 more")
	if strings.Contains(w.bodyText(), "Prove the meter on a known outlet before and after") {
		t.Error("the second caution is not folded")
	}
	w.Press("and 1 more")
	if !strings.Contains(w.bodyText(), "Prove the meter on a known outlet before and after") {
		t.Errorf("the second caution has not opened:\n%s", w.bodyText())
	}
}

// After the finding a test after repair begins: the finding stays one press
// away, with its own sheet under its own name.
func TestTheFindingStaysInReach(t *testing.T) {
	w := open(t, wide)
	w.toFinding()
	found := w.session.SheetName(w.session.Visit().Record())
	w.Press("Test after repair")
	w.Want("FOUND BEFORE THE REPAIR")
	w.Press("DANGER: The grounding conductor is lost")
	w.Want("This was found before the test after the repair", "57.3 V", "Keep everyone off the vehicle")
	w.Press("Go on with the test")
	w.Pick("2")
	w.Answer("120.0")
	w.Answer("0.4")
	w.Press("DANGER: The grounding conductor is lost")
	w.Press("Make the sheet of this finding")
	w.Want("what was found before the repair")
	record := w.session.Visit().Record()
	if name := w.session.SheetName(record.Until(0)); name != found {
		t.Errorf("the sheet of the finding is called %s, before the test %s", name, found)
	}
	if name := w.session.SheetName(record); name == found {
		t.Errorf("the sheet of the test takes the name of the finding's, %s", name)
	}
	w.Press("Copy as text")
	if text := fyne.CurrentApp().Clipboard().Content(); !strings.Contains(text, "57.3 V") || strings.Contains(text, "0.4 V") {
		t.Errorf("the sheet of the finding holds\n%s", text)
	}
	w.Go(place.Visits())
	w.Want("DANGER: The grounding conductor is lost", "Test after repair: NOTICE")
}
