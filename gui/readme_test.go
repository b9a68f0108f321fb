package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view/scenes"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// TestReadmePictures draws the pictures of README, under their names there.
func TestReadmePictures(t *testing.T) {
	for _, p := range []struct {
		name string
		mode look.Mode
		size fyne.Size
		lead func(w *window)
	}{
		{"opening-light", look.Light, wide, func(*window) {}},
		{"step-light", look.Light, wide, (*window).toLiveCover},
		{"finding-light", look.Light, wide, (*window).toTwoFaults},
		{"step-dark-narrow", look.Dark, small, (*window).toLiveCover},
		{"circuit-light", look.Light, fyne.NewSize(1280, 1180), func(w *window) {
			w.Go(place.Circuit("coach-50a", "open-neutral", ""))
			w.Choose("in the cord")
		}},
		{"practice-light", look.Light, fyne.NewSize(1280, 1300), (*window).toPractised},
		{"suspects-light", look.Light, fyne.NewSize(1280, 1100), func(w *window) {
			w.toCordNeutral()
		}},
	} {
		t.Run(p.name, func(t *testing.T) {
			w := open(t, p.size, shipped, func(o *Options) {
				if *frametest.Pictures != "" {
					o.draw = nil // the vehicles of the handbook, which take their time
				}
			})
			w.colours(p.mode)
			p.lead(w)
			w.Picture(p.name)
		})
	}
}

// toPractised finds the open neutral of a scenario by four readings.
func (w *window) toPractised() {
	w.t.Helper()
	w.Go(place.Scenario("bright-over-the-sink"))
	w.Press("Go to the vehicle")
	w.Press("Prove the meter")
	for _, points := range [][2]string{{"body", "earth"}, {"panel.l1", "panel.n"}, {"panel.l2", "panel.n"}, {"panel.l1", "panel.l2"}} {
		for i, id := range points {
			frametest.Find[*look.Select](w.Reader)[i].SetSelected(scenes.PointName(id))
		}
		w.Press("Take this reading")
	}
	w.Choose("The neutral is open")
	w.Press("Name it and see")
	w.Want("You found it")
}
