package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// shot leads a desk to a view worth a picture.
type shot struct {
	name string
	lead func(t *testing.T, w *window)
}

// showing is how a shot is shown.
type showing struct {
	name string
	mode look.Mode
	size fyne.Size
}

// shots lead a desk to each view worth a picture. They are the views that
// README shows and that a person should look at after a change.
var shots = []shot{
	{"01-welcome", func(t *testing.T, w *window) { w.Go(place.Welcome()) }},
	{"02-opening", func(t *testing.T, w *window) { w.Go(place.Opening()) }},
	{"03-observe", func(t *testing.T, w *window) { w.Press("A tingle") }},
	{"04-measure", func(t *testing.T, w *window) { w.toBody() }},
	{"05-typed", func(t *testing.T, w *window) { w.toBody(); w.Type("41.5") }},
	{"06-straddles", func(t *testing.T, w *window) { w.toBody(); w.Type("29.8") }},
	{"07-refused", func(t *testing.T, w *window) { w.toBody(); w.Type("12000") }},
	{"08-cannot", func(t *testing.T, w *window) { w.toBody(); w.Press("annot") }},
	{"09-stop", func(t *testing.T, w *window) { w.toBody(); w.Answer("58") }},
	{"10-ohms", func(t *testing.T, w *window) { w.toBody(); w.Answer("58"); w.Pick("1") }},
	{"11-danger", func(t *testing.T, w *window) { w.toFinding() }},
	{"12-earlier", func(t *testing.T, w *window) { w.toFinding(); w.Press("Body to earth"); w.Retype("2") }},
	{"13-handed-over", func(t *testing.T, w *window) { w.toBody(); w.Answer("12") }},
	{"14-low", func(t *testing.T, w *window) { w.toBody(); w.Answer("2") }},
	{"15-pedestal", func(t *testing.T, w *window) { w.Go(place.Pedestal()) }},
	{"16-sheet", func(t *testing.T, w *window) { w.toSheet() }},
	{"17-sheet-stop", func(t *testing.T, w *window) { w.toSheet(); w.Type("118") }},
	{"18-two", func(t *testing.T, w *window) { w.Press("Not plugged in"); w.Answer("1.2"); w.Type("119") }},
	{"19-card", func(t *testing.T, w *window) { w.Go(place.Document("card", "doubt-the-meter")) }},
	{"20-caution", func(t *testing.T, w *window) { w.Go(place.Document("caution", "first-minute")) }},
	{"21-fault", func(t *testing.T, w *window) { w.Go(place.Document("fault", "live-body")) }},
	{"22-source", func(t *testing.T, w *window) { w.Go(place.Document("source", "published-limit")) }},
	{"23-handbook", func(t *testing.T, w *window) { w.Go(place.Handbook("", "")) }},
	{"24-search", func(t *testing.T, w *window) { w.StartSearch(); w.Type("meter") }},
	{"25-reading-hit", func(t *testing.T, w *window) { w.Go(place.Reading("tingle#body-earth", "", "58")) }},
	{"26-visits", func(t *testing.T, w *window) { w.toFinding(); w.begin2(); w.Go(place.Visits()) }},
	{"27-delete", func(t *testing.T, w *window) { w.toBody(); w.Go(place.Delete(w.session.Visit().ID())) }},
	{"28-sheet-out", func(t *testing.T, w *window) { w.toFinding(); w.Press("Make the sheet") }},
	{"29-settings", func(t *testing.T, w *window) { w.Go(place.Settings()) }},
	{"30-unfinished", func(t *testing.T, w *window) { w.toBody(); w.Go(place.Opening()) }},
	{"31-menu", func(t *testing.T, w *window) {
		if w.Narrow() {
			w.Press("menu")
		}
	}},
	{"32-tree", func(t *testing.T, w *window) { w.Go(place.Document(view.KindTree, "tingle")) }},
	{"33-problems", func(t *testing.T, w *window) { w.Go(place.Problems()) }},
	{"35-damage", func(t *testing.T, w *window) { w.toBody(); w.Press("I see damage"); w.Type("1") }},
	{"36-unseen", func(t *testing.T, w *window) { w.toBody(); w.Press("I cannot see it") }},
	{"37-not-a-choice", func(t *testing.T, w *window) { w.Pick("1"); w.Type("12.6") }},
	{"38-marked", func(t *testing.T, w *window) { w.toFinding(); w.Press("Was a tingle felt?"); w.Press("No, nothing") }},
	{"39-test-after-repair", func(t *testing.T, w *window) { w.toFinding(); w.Press("Test after repair") }},
	{"40-found-before", func(t *testing.T, w *window) {
		w.toFinding()
		w.Press("Test after repair")
		w.Press("DANGER: The grounding")
	}},
	{"34-not-found", func(t *testing.T, w *window) { w.Go(place.Document("card", "none")) }},
}

func (w *window) toBody() {
	w.t.Helper()
	w.Press("A tingle")
	w.Pick("1")
	w.Answer("119.8")
}

func (w *window) toFinding() {
	w.t.Helper()
	w.toBody()
	w.Answer("57.3")
	w.Pick("1")
	w.Answer("OL")
}

func (w *window) begin2() {
	w.t.Helper()
	w.Go(place.Opening())
	w.Press("Not plugged in")
	w.Answer("1.2")
}

func (w *window) toSheet() {
	w.t.Helper()
	w.Press("Not plugged in")
	w.Press("All readings on one page")
}

// Every view draws in every mode at every size without a panic.
func TestPictures(t *testing.T) {
	for _, v := range []showing{
		{"light", look.Light, wide}, {"dark", look.Dark, wide}, {"narrow", look.Light, small},
		{"contrast", look.HighContrast, wide}, {"middle", look.Dark, middle},
	} {
		if *frametest.Pictures == "" && v.mode != look.Light {
			continue // another mode lays out the same; TestEveryPageOpens draws all
		}
		for _, s := range shots {
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				w := open(t, v.size)
				w.colours(v.mode)
				s.lead(t, w)
				w.Picture(v.name + "-" + s.name)
			})
		}
	}
}
