package gui

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// shippedScenes are views of the shipped handbook, as README shows them.
var shippedScenes = []shot{
	{"opening", func(t *testing.T, w *window) {}},
	{"first-minute", func(t *testing.T, w *window) { w.Pick("1") }},
	{"prove", func(t *testing.T, w *window) {
		w.Pick("1")
		w.Pick("1")
	}},
	{"pins", func(t *testing.T, w *window) { w.shippedTo("119.8"); w.Type("0.0") }},
	{"ground-path", func(t *testing.T, w *window) { w.toShippedGround(); w.Type("0.3") }},
	{"cover", func(t *testing.T, w *window) { w.toLiveCover() }},
	{"body-earth", func(t *testing.T, w *window) { w.toShippedBody(); w.Type("41.5") }},
	{"stop", func(t *testing.T, w *window) { w.toShippedBody(); w.Answer("58") }},
	{"stop-finding", func(t *testing.T, w *window) {
		w.toShippedBody()
		w.Answer("58")
		w.Pick("1")
		w.answerShipped(nil, "")
	}},
	{"finding", func(t *testing.T, w *window) { w.toTwoFaults() }},
	{"why", func(t *testing.T, w *window) { w.toTwoFaults(); w.Press("Show me why") }},
	{"sheet", func(t *testing.T, w *window) {
		w.Pick("5")
		w.Go(place.Readings(w.session.Visit().ID()))
		w.Answer("119.9")
	}},
	{"pattern", func(t *testing.T, w *window) { w.toShippedPattern() }},
	{"card", func(t *testing.T, w *window) {
		w.Go(place.Document("card", "why-the-body-can-be-live"))
	}},
	{"card-face", func(t *testing.T, w *window) { w.Go(place.Document("card", "receptacle-14-50")) }},
	{"fault", func(t *testing.T, w *window) { w.Go(place.Document("fault", "open-neutral")) }},
	{"caution", func(t *testing.T, w *window) { w.Go(place.Document("caution", "first-minute")) }},
	{"handbook", func(t *testing.T, w *window) { w.Go(place.Handbook("", "")) }},
	{"search", func(t *testing.T, w *window) { w.StartSearch(); w.Type("58 volts on the bumper") }},
	{"search-words", func(t *testing.T, w *window) { w.StartSearch(); w.Type("tingle") }},
	{"welcome", func(t *testing.T, w *window) {
		w.session.Set(func(s *session.Settings) { s.Welcomed = false })
		w.Go(place.Welcome())
	}},
}

// shippedTo answers the first steps of the shipped tree of a felt tingle.
func (w *window) shippedTo(texts ...string) {
	w.t.Helper()
	w.Pick("1")
	w.Pick("1")
	w.Pick("3") // nothing is hot or wet
	for _, text := range texts {
		w.Answer(text)
	}
}

// toShippedGround goes to the ohms at a pulled plug with no adapter before it, and
// on by these readings.
func (w *window) toShippedGround(texts ...string) {
	w.t.Helper()
	w.shippedTo("119.8", "0.0", "0.0")
	w.Pick("1")
	w.Want("Pulled plug: grounding pin to the body")
	for _, text := range texts {
		w.Answer(text)
	}
}

// toLiveCover types volts of a pedestal's metal once the dead tests show nothing.
func (w *window) toLiveCover() {
	w.t.Helper()
	w.toShippedGround("0.1", "OL", "OL", "14")
	w.Pick("2") // it was felt on the cord
	w.Want("The pedestal's own metal")
	w.Type("41.5")
}

// toTwoFaults ends at a cord that has lost its ground with a leak behind it.
func (w *window) toTwoFaults() {
	w.t.Helper()
	w.toShippedGround("OL", "OL", "150 k", "150 k")
	w.Want("The cord has lost its ground, and something leaks", "FAULTS THAT THESE READINGS SHOW TOGETHER")
}

func (w *window) toShippedBody() {
	w.t.Helper()
	w.begin(faulttree.ParseRef("body-voltage#body-earth", ""))
	w.Want("Somebody has read the body to earth")
}

// answerShipped goes on by the readings given, until a quantity is asked or the
// walk ends. What is not given is as it is in a sound vehicle: 119.4 V, nothing
// on a pulled plug, no way through insulation, and whole wires.
func (w *window) answerShipped(shown map[string]string, until string) {
	w.t.Helper()
	for range 60 {
		walk := w.session.Visit().Walk()
		if walk.Ended() || walk.Step().Kind == faulttree.KindMeasure && walk.Step().Measure[0].Quantity.ID == until {
			return
		}
		if walk.Step().Kind != faulttree.KindMeasure {
			w.Pick("1")
			continue
		}
		for _, v := range walk.Step().Measure {
			q := v.Quantity
			text := shown[q.ID]
			switch _, wire, _ := strings.Cut(q.Red, "."); {
			case text != "":
			case q.Unit == faulttree.Ohms && (strings.HasSuffix(q.Black, "."+wire) || strings.HasPrefix(q.Red, "adapter.")):
				text = "0.1"
			case q.Unit == faulttree.Ohms:
				text = "OL"
			case q.Has(faulttree.Unplugged):
				text = "0.0"
			default:
				text = "119.4"
			}
			w.Answer(text)
		}
	}
	w.t.Fatal("the walk does not end")
}

// toShippedPattern ends at a finding that the pattern of the readings tells: a
// 50 A pedestal whose neutral contact hangs free.
func (w *window) toShippedPattern() {
	w.t.Helper()
	w.Press("50 A")
	w.Pick("4") // dry and whole
	w.answerShipped(map[string]string{"pedestal.cover-earth": "0.5", "pedestal.g-earth": "0.3", "pedestal.n-earth": "0.4", "pedestal.l1-n": "8.2", "pedestal.l2-n": "8.4", "pedestal.n-g": "0.2", "pedestal.l1-l2": "239.3"}, "")
	w.Want("Nothing holds the neutral contact")
}

func TestShippedPictures(t *testing.T) {
	drawShipped(t, "shipped", shippedScenes, []showing{{"light", look.Light, wide}, {"dark", look.Dark, wide}, {"narrow", look.Light, small}, {"dark-narrow", look.Dark, small}})
}

// drawShipped draws shots of the shipped handbook.
func drawShipped(t *testing.T, prefix string, shots []shot, showings []showing) {
	drawScenes(t, prefix, shots, showings, shipped)
}

// drawScenes draws shots of a handbook in some modes and sizes; the narrow one
// alone where no pictures are asked for.
func drawScenes(t *testing.T, prefix string, shots []shot, showings []showing, book func(*Options)) {
	for _, v := range showings {
		if *frametest.Pictures == "" && v.name != "narrow" {
			continue
		}
		for _, s := range shots {
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				w := open(t, v.size, book)
				w.colours(v.mode)
				s.lead(t, w)
				w.Picture(prefix + "-" + v.name + "-" + s.name)
			})
		}
	}
}
