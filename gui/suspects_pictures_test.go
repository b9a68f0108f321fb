package gui

import (
	"context"
	"fmt"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/suspect"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// cordNeutral is a technician's list for an open neutral in the cord.
const cordNeutral = "pedestal, nothing plugged in: L1-N 120.4, L2-N 119.8, L1-L2 240\npanel, loads on: L1-N 59, L2-N 177?\ncord unplugged, neutral end to end OL ohm"

// suspectScenes are the page of what fits, what is still possible beside a walk, and
// why a reading is what it is.
var suspectScenes = []shot{
	{"empty", func(t *testing.T, w *window) { w.Go(place.Suspects("")) }},
	{"cord", func(t *testing.T, w *window) { w.toCordNeutral() }},
	{"one-reading", func(t *testing.T, w *window) {
		w.Go(place.Suspects("cord unplugged, neutral end to end 4.2 ohm"))
	}},
	{"tools", func(t *testing.T, w *window) {
		w.toCordNeutral()
		w.Press("At hand beside a multimeter")
	}},
	{"stop-panel", func(t *testing.T, w *window) { w.Go(place.Suspects("panel, loads on: L1-N 59, L2-N 177")) }},
	{"stop", func(t *testing.T, w *window) { w.Go(place.Suspects("body to earth, loads on 58 V")) }},
	{"cord-why", func(t *testing.T, w *window) { w.toCordNeutral(); w.Press("Show me why") }},
	{"possible", func(t *testing.T, w *window) {
		w.set(func(s *session.Settings) { s.Role = faulttree.Qualified })
		w.toNeutral()
	}},
	{"parting", func(t *testing.T, w *window) {
		w.set(func(s *session.Settings) { s.Role = faulttree.Qualified })
		w.toParting()
	}},
}

// toCordNeutral tells an open neutral of a cord.
func (w *window) toCordNeutral() {
	w.t.Helper()
	w.session.Tell(w.session.Account().Knowing("service", "50a").Knowing("source", "shore"))
	w.Go(place.Suspects(cordNeutral))
	w.Want("The neutral is open")
}

// toParting ends a walk at a finding that is milder than what fits its readings.
func (w *window) toParting() {
	w.t.Helper()
	out, err := w.session.Begin(faulttree.Ref{Tree: "half-dead", Step: "outlet-alive"})
	if err != nil {
		w.t.Fatal(err)
	}
	if out, err = w.session.Supply(out.To.ID, faulttree.Supplied{Readings: w.parsed(map[string]string{"ohm:plug.n-cord.n@unplugged": "OL"}), Once: true}); err != nil {
		w.t.Fatal(err)
	}
	w.Go(out.To)
	w.Return("")
	w.Want("The safer is followed")
}

// drawnOnce draws the vehicles of the shipped handbook once for each set of facts.
// They are not worked out ahead: that takes longer than the toolkit keeps how a
// window is drawn that nobody looks at.
func drawnOnce() scenes.Draw {
	kept := map[string]suspect.Population{}
	return func(ctx context.Context, o drawn.Options) (suspect.Population, error) {
		key := fmt.Sprint(o)
		if kept[key] == nil {
			book, err := shippedBook.read(ctx)
			if err != nil {
				return nil, err
			}
			p, err := drawn.New(ctx, scenes.DrawnFrom(book), o)
			if err != nil {
				return nil, err
			}
			kept[key] = unwarmed{p}
		}
		return kept[key], nil
	}
}

type unwarmed struct{ *drawn.Population }

// Warm stands before that of the vehicles.
func (unwarmed) Warm() {}

// Every view of what fits draws in every mode and size without a panic.
func TestSuspectPictures(t *testing.T) {
	draw := drawnOnce()
	for _, v := range []showing{
		{"light", look.Light, wide}, {"dark", look.Dark, wide}, {"narrow", look.Light, fyne.NewSize(480, 2400)}, {"tall", look.Light, fyne.NewSize(1280, 1700)},
	} {
		if *frametest.Pictures == "" && v.name != "narrow" {
			continue
		}
		for _, s := range suspectScenes {
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				w := open(t, v.size, shipped, func(o *Options) {
					if *frametest.Pictures != "" {
						o.draw = draw // the vehicles of the handbook, which take their time
					}
				})
				w.colours(v.mode)
				s.lead(t, w)
				w.Picture("suspects-" + v.name + "-" + s.name)
				w.WantNothingCut()
			})
		}
	}
}
