package gui

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/gui/look"
)

// shippedScenes are views of the shipped handbook, as README shows them.
var shippedScenes = []shot{
	{"opening", func(t *testing.T, d *Desk) {}},
	{"first-minute", func(t *testing.T, d *Desk) { d.typeIn(t, "1") }},
	{"prove", func(t *testing.T, d *Desk) { d.typeIn(t, "11") }},
	{"pins", func(t *testing.T, d *Desk) { d.shippedTo(t, "119.8"); d.typeIn(t, "0.0") }},
	{"ground-path", func(t *testing.T, d *Desk) { d.shippedTo(t, "119.8", "0.0", "0.0", "0.0"); d.typeIn(t, "0.3") }},
	{"body-earth", func(t *testing.T, d *Desk) { d.toShippedBody(t); d.typeIn(t, "41.5") }},
	{"stop", func(t *testing.T, d *Desk) { d.toShippedBody(t); d.answer(t, "58") }},
	{"finding", func(t *testing.T, d *Desk) {
		d.toShippedBody(t)
		d.answer(t, "58")
		d.typeIn(t, "1")
		d.answerShipped(t, nil, "")
	}},
	{"sheet", func(t *testing.T, d *Desk) {
		d.typeIn(t, "5")
		d.Go(Location{Page: pageSheet, ID: d.visit.id()})
		d.answer(t, "119.9")
	}},
	{"weighed", func(t *testing.T, d *Desk) { d.toShippedWeighing(t) }},
	{"card", func(t *testing.T, d *Desk) {
		d.Go(Location{Page: pageRead, Kind: "card", ID: "why-the-body-can-be-live"})
	}},
	{"card-face", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "card", ID: "receptacle-14-50"}) }},
	{"fault", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "fault", ID: "open-neutral"}) }},
	{"caution", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageRead, Kind: "caution", ID: "first-minute"}) }},
	{"handbook", func(t *testing.T, d *Desk) { d.Go(Location{Page: pageHandbook}) }},
	{"search", func(t *testing.T, d *Desk) { d.shell.startSearch(); d.typeIn(t, "58 volts on the bumper") }},
	{"search-words", func(t *testing.T, d *Desk) { d.shell.startSearch(); d.typeIn(t, "tingle") }},
	{"welcome", func(t *testing.T, d *Desk) { d.settings.Welcomed = false; d.Go(Location{Page: pageWelcome}) }},
}

// shippedTo answers the first steps of the shipped tree of a felt tingle.
func (d *Desk) shippedTo(t *testing.T, texts ...string) {
	t.Helper()
	d.typeIn(t, "11")
	for _, text := range texts {
		d.answer(t, text)
	}
}

func (d *Desk) toShippedBody(t *testing.T) {
	t.Helper()
	d.typeIn(t, "1")
	d.answerShipped(t, map[string]string{"meter.known-source": "119.8", "pedestal.g-earth": "0.6", "pedestal.n-earth": "0.6", "pedestal.n-g": "0.2", "pedestal.l1-l2": "239.0",
		"ohm:plug.g-body@unplugged": "0.1"}, "body-earth")
	d.wantShown(t, "Body to earth")
}

// answerShipped goes on by the readings given, until a quantity is asked or the
// walk ends. What is not given is as it is in a sound vehicle: 119.4 V, nothing
// on a pulled plug, no way through insulation, and whole wires.
func (d *Desk) answerShipped(t *testing.T, shown map[string]string, until string) {
	t.Helper()
	for range 60 {
		w := d.visit.walk()
		if w.Ended() || w.Step().Kind == faulttree.KindMeasure && w.Step().Measure[0].Quantity.ID == until {
			return
		}
		if w.Step().Kind != faulttree.KindMeasure {
			d.typeIn(t, "1")
			continue
		}
		for _, v := range w.Step().Measure {
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
			d.answer(t, text)
		}
	}
	t.Fatal("the walk does not end")
}

// toShippedWeighing ends at a finding that the pattern of the readings tells: a
// 50 A pedestal whose neutral contact hangs free.
func (d *Desk) toShippedWeighing(t *testing.T) {
	t.Helper()
	d.press(t, "50 A")
	d.answerShipped(t, map[string]string{"pedestal.g-earth": "0.3", "pedestal.n-earth": "0.4", "pedestal.l1-n": "8.2", "pedestal.l2-n": "8.4", "pedestal.n-g": "0.2", "pedestal.l1-l2": "239.3"}, "")
}

func TestShippedPictures(t *testing.T) {
	drawShipped(t, "shipped", shippedScenes, []showing{{"light", look.Light, wide}, {"dark", look.Dark, wide}, {"narrow", look.Light, small}, {"dark-narrow", look.Dark, small}})
}

// drawShipped draws scenes of the shipped handbook in some modes and sizes; the
// narrow one alone where no pictures are asked for.
func drawShipped(t *testing.T, prefix string, scenes []shot, showings []showing) {
	for _, v := range showings {
		if *pictures == "" && v.name != "narrow" {
			continue
		}
		for _, s := range scenes {
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				d := desk(t, v.size, func(o *Options) { o.ContentDir = "" })
				d.set(func(s *Settings) { s.Mode = v.mode })
				s.lead(t, d)
				d.picture(t, prefix+"-"+v.name+"-"+s.name)
			})
		}
	}
}
