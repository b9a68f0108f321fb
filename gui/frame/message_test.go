package frame_test

import (
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/frame"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// pageOf is a page longer than any window, with the keyboard at its end.
func pageOf(w *frame.Frame) func(place.Location) frame.Page {
	return func(place.Location) frame.Page {
		var p frame.Page
		for range 60 {
			p.Body = append(p.Body, look.NewText("A long page."))
		}
		last := look.NewButton("Do it", func() { w.Say("It could not be done.") })
		p.Body, p.Focus = append(p.Body, last), last
		return p
	}
}

// A message is in view wherever the page was scrolled to when it was said, and
// however it was said.
func TestMessagesAreSeen(t *testing.T) {
	said := ""
	w, r := frametest.Open(t, frametest.Small, frame.Options{}, place.Visits(), func(f *frame.Frame) {
		f.Add(map[place.Page]frame.Entry{
			place.VisitsPage:   {Build: pageOf(f), Arrive: func(place.Location) (string, error) { return said, nil }},
			place.SettingsPage: {Build: pageOf(f)},
		})
	})
	seen := func(text string) {
		t.Helper()
		found := false
		look.Walk(w.Window().Content(), func(o fyne.CanvasObject) bool {
			if p, ok := o.(*look.Prose); ok && strings.Contains(p.Plain(), text) {
				top := fyne.CurrentApp().Driver().AbsolutePositionForObject(p).Y
				found = top >= 0 && top+p.Size().Height <= w.Window().Canvas().Size().Height
			}
			return true
		})
		if !found {
			t.Errorf("%q is not in view", text)
		}
	}
	down := func() { look.Reveal(w.Shown().Focus.(fyne.CanvasObject)) }

	down()
	r.Press("Do it")
	seen("It could not be done.")
	down()
	w.Return("The handbook was read again.")
	seen("The handbook was read again.")

	down()
	at := offset(w)
	w.Return("")
	if offset(w) != at {
		t.Errorf("with nothing new to say the page goes from %v to %v", at, offset(w))
	}
	w.Go(place.Settings())
	said = "Part of the record cannot be read."
	w.Back()
	seen(said)
}

func offset(w *frame.Frame) float32 { return w.Window().Content().(*look.Columns).Offset() }
