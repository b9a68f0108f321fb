package practice

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree/practice"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

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
	{"tripped", func(w *window) { w.toScenario("the-new-cooler-did-it") }},
	{"picture-tripped", func(w *window) {
		w.toScenario("the-button-that-jumps-back")
		w.Press("Picture")
	}},
	{"begin", func(w *window) { w.Go(place.Scenario("bright-over-the-sink")) }},
	{"conclude", func(w *window) {
		try := w.toScenario("bright-over-the-sink")
		w.Press("Prove the meter")
		w.probe(try, "panel.l1", "panel.n")
		w.probe(try, "panel.l2", "panel.n")
		w.Press("Conclude")
		w.Choose("The neutral is open (supply, cord, vehicle)")
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
