package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/must"
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
		{"bench-light", look.Light, wide, func(w *window) { w.toBench("Picture") }},
		{"practice-light", look.Light, fyne.NewSize(1280, 1300), (*window).toPractised},
		{"class-light", look.Light, wide, func(w *window) {
			if *frametest.Pictures == "" {
				return // its marks take a while
			}
			w.class.OpenFolder(handedIn(w.t))
		}},
		{"suspects-light", look.Light, fyne.NewSize(1280, 1100), func(w *window) {
			w.toCordNeutral()
		}},
		{"flow-light", look.Light, fyne.NewSize(1280, 960), (*window).toFlow},
	} {
		t.Run(p.name, func(t *testing.T) {
			w := open(t, p.size, shipped, func(o *Options) {
				if *frametest.Pictures != "" {
					o.draw = drawnOnce() // the vehicles of the handbook, which take their time
				}
			})
			w.colours(p.mode)
			p.lead(w)
			w.Picture(p.name)
		})
	}
}

// toFlow sees a walk whole, two answers into it.
func (w *window) toFlow() {
	w.t.Helper()
	out := must.Have(w.session.Begin(faulttree.Ref{Tree: "half-dead"}))(w.t)
	for _, choice := range []string{"dead", "none"} {
		out = must.Have(w.session.Answer(out.To.ID, faulttree.Answer{Choice: choice}))(w.t)
	}
	w.Go(out.To)
	w.Press("See the walk whole")
	w.Key(fyne.KeyUp)
	w.Type("---")
}

// toBench reads the higher leg of a scenario's vehicle.
func (w *window) toBench(view string) {
	w.t.Helper()
	w.Go(place.Scenario("bright-over-the-sink"))
	w.Press("On my own")
	w.Press(view)
	w.Press("Prove the meter")
	w.read("panel.l1", "panel.n")
	w.read("panel.l2", "panel.n")
}

// read puts the probes of a practice on two points and takes the reading.
func (w *window) read(points ...string) {
	w.t.Helper()
	for i, id := range points {
		frametest.Find[*look.Select](w.Reader)[i].SetSelected(scenes.PointName(id))
	}
	w.Press("Take this reading")
	w.Press("Do it")
}

// toPractised finds the open neutral of a scenario by four readings.
func (w *window) toPractised() {
	w.t.Helper()
	w.Go(place.Scenario("bright-over-the-sink"))
	w.Press("On my own")
	w.Press("Prove the meter")
	for _, points := range [][2]string{{"body", "earth"}, {"panel.l1", "panel.n"}, {"panel.l2", "panel.n"}, {"panel.l1", "panel.l2"}} {
		w.read(points[0], points[1])
	}
	if *frametest.Pictures == "" {
		return // its marks take a while
	}
	w.conclude("The neutral is open (supply, cord, vehicle)", "Cord, plug or adapter", "Keep it unplugged and put it out of use", "The owner replaces a whole cord")
}

// conclude concludes a practice and looks back.
func (w *window) conclude(fault, place, do, by string) {
	w.t.Helper()
	w.Press("Conclude")
	w.Choose(fault)
	w.Press(place)
	if boxes := frametest.Find[*look.Check](w.Reader); len(boxes) > 0 {
		boxes[0].SetChecked(true)
	}
	w.Press(do)
	w.Press(by)
	w.Press("Conclude so")
	w.Press("Look back without reading again")
}
