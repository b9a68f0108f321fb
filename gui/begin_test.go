package gui

import (
	"path/filepath"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

// standing begins a visit and leads it to the step that proves the meter.
func (w *window) standing() (id string) {
	w.t.Helper()
	w.Pick("1")
	w.Pick("2")
	w.Want("Prove the meter on an outlet that works")
	return w.session.Visit().ID()
}

// typedReading is what the first field of the page holds.
func (w *window) typedReading() string {
	return frametest.Find[*look.Field](w.Reader)[0].Text
}

// A reading that was searched for is recorded in the visit that begins with it.
// If none can begin, it is recorded nowhere, although another visit stands at
// that very step: it stays typed, and the reason is shown.
func TestAReadingIsNotRecordedInAnotherVisit(t *testing.T) {
	unchanged := func(t *testing.T, w *window, id string) {
		t.Helper()
		if v := w.session.Visit(); v == nil || v.ID() != id || len(v.Walk().Trail()) != 1 {
			t.Errorf("the visit before was changed: %+v", v)
		}
		if v, err := w.visits.Read(id); err != nil || len(v.Records) != 1 {
			t.Errorf("on record are %+v, %v", v.Records, err)
		}
	}
	t.Run("full disk", func(t *testing.T) {
		var disk *sessiontest.Disk
		w := open(t, wide, func(o *Options) { disk = &sessiontest.Disk{Visits: o.Visits}; o.Visits = disk })
		id := w.standing()
		w.Go(place.Reading("tingle#prove", "meter.known-source", "119.8"))
		disk.Full = true
		w.Check("Read as this page says", true)
		w.Press("Begin a walk here with this reading")
		w.WantSaid("could not be begun", sessiontest.ErrFull.Error())
		if text := w.typedReading(); text != "119.8" {
			t.Errorf("typed is %q", text)
		}
		unchanged(t, w, id)
	})
	t.Run("errors in the tree", func(t *testing.T) {
		dir := copied(t)
		w := open(t, wide, folder(dir))
		id := w.standing()
		edit(t, filepath.Join(dir, "trees", "tingle.md"), "cards: [doubt-the-meter]", "cards: [doubt-the-meter, no-such-card]")
		w.handbook.Load()
		w.Go(place.Reading("tingle#prove", "meter.known-source", "119.8"))
		w.Check("Read as this page says", true)
		w.Press("Begin a walk here with this reading")
		w.Want("Problems of this handbook", "no-such-card")
		w.WantSaid("This walk has errors")
		unchanged(t, w, id)
		w.Back()
		if text := w.typedReading(); text != "119.8" {
			t.Errorf("typed is %q", text)
		}
	})
}

// What is said on the way to another page stands above that page.
func TestAMessageGoesAlong(t *testing.T) {
	dir := copied(t)
	edit(t, filepath.Join(dir, "trees", "tingle.md"), "cards: [doubt-the-meter]", "cards: [doubt-the-meter, no-such-card]")
	w := open(t, wide, folder(dir))
	w.Press("A tingle")
	w.Want("Problems of this handbook")
	shows(t, w, "This walk has errors")

	var disk *sessiontest.Disk
	w = open(t, wide, func(o *Options) { disk = &sessiontest.Disk{Visits: o.Visits}; o.Visits = disk })
	w.standing()
	disk.Unclosed = sessiontest.ErrFull
	w.Go(place.Opening())
	w.Press("Not plugged in")
	w.Want("step 1")
	shows(t, w, "visit before could not be closed")
	disk.Unclosed = nil
	w.Go(place.Opening())
	w.toFinding()
	w.Press("Test after repair")
	shows(t, w, "This is the test after the repair")
	w.Go(place.Delete(w.session.Visit().ID()))
	w.Press("Delete it for good")
	w.Want("Visits")
	shows(t, w, "The visit was deleted")
	w.Go(place.Opening())
	if w.Said() != "" {
		t.Errorf("on the page after it still says %q", w.Said())
	}
}

// shows fails unless the window draws the message.
func shows(t *testing.T, w *window, text string) {
	t.Helper()
	if drawn := look.TextOf(w.Window.Window().Content()); !strings.Contains(drawn, text) {
		t.Errorf("the window does not show %q:\n%s", text, drawn)
	}
}

// A figure that does not hurt counts only if it was taken as the step says; one
// that hurts counts at once.
func TestAHarmlessFigureIsTakenOnItsConditions(t *testing.T) {
	w := open(t, wide)
	begin := func() *look.Button {
		t.Helper()
		for _, b := range frametest.Find[*look.Button](w.Reader) {
			if strings.HasPrefix(look.TextOf(b), "Begin a walk here") {
				return b
			}
		}
		t.Fatalf("no such button:\n%s", w.Text())
		return nil
	}
	w.Go(place.Reading("tingle#body-earth", "body-earth", "2"))
	if !begin().Disabled() {
		t.Error("a figure of 2 V begins a walk before it is said how it was read")
	}
	w.Key(fyne.KeyReturn) // goes to the box
	if w.session.Visit() != nil {
		t.Fatal("Enter has begun a walk")
	}
	w.Key(fyne.KeyReturn) // ticks it
	if begin().Disabled() {
		t.Error("said so, it does not begin")
	}
	w.Go(place.Reading("tingle#body-earth", "body-earth", "29.8"))
	if begin().Disabled() || strings.Contains(w.Text(), "Read as this page says") {
		t.Errorf("a figure that may hurt waits:\n%s", w.Text())
	}
}

// A visit is begun with the meter that was chosen for it, of several, and goes on with
// it when another is chosen for the next.
func TestAVisitIsBegunWithTheMeterThatIsChosen(t *testing.T) {
	w := open(t, wide)
	second := session.OwnMeter{Meter: faulttree.DefaultMeter()}
	second.Name, second.FullScale = "fine one", 20000
	must.Do(t, w.session.Set(func(s *session.Settings) { must.Do(t, s.Put(-1, second)) }))
	first := faulttree.DefaultMeter().Name
	w.Go(place.Opening())
	w.Press(first)
	id := w.standing()
	if m := w.session.Visit().Walk().Meter(); m.Name != first {
		t.Errorf("the visit is read with %q", m.Name)
	}
	w.Go(place.Opening())
	w.Press("fine one")
	if v := must.Have(w.visits.Read(id))(t); v.Header.Meter.Name != first || w.session.Settings().Meter != second.Meter {
		t.Errorf("the visit is kept with %q, the next is with %q", v.Header.Meter.Name, w.session.Settings().Meter.Name)
	}
}
