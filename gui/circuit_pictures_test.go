package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/look"
)

// circuitScenes are the states of the circuit page worth a picture.
var circuitScenes = []shot{
	{"healthy", func(t *testing.T, d *Desk) {
		d.toCircuit(t, "coach-50a", "")
		d.bench.scene.SetProbes("panel.l1", "panel.n")
		d.render()
	}},
	{"open-neutral", func(t *testing.T, d *Desk) {
		d.toCircuit(t, "coach-50a", "open-neutral")
		d.bench.scene.SetProbes("panel.l2", "panel.n")
		d.render()
		d.chooseIn(t, "in the cord")
	}},
	{"open-neutral-turned", func(t *testing.T, d *Desk) {
		d.toCircuit(t, "coach-50a", "open-neutral")
		d.bench.scene.SetProbes("panel.l2", "panel.n")
		d.render()
		d.chooseIn(t, "in the cord")
		d.dial(t, "Loads on L1").Turn(0.2)
		d.dial(t, "Loads on L2").Turn(0.9)
	}},
	{"lost-ground", func(t *testing.T, d *Desk) {
		d.toCircuit(t, "trailer-30a", "open-ground")
		d.bench.scene.SetProbes("body", "earth")
		d.render()
		d.chooseIn(t, "in the cord")
	}},
	{"why", func(t *testing.T, d *Desk) {
		d.toShippedBody(t)
		d.answer(t, "58")
		d.typeIn(t, "1")
		for _, text := range []string{"0.0", "0.0", "0.0", "OL", "OL", "0.2", "0.2", "0.2"} {
			d.answer(t, text)
		}
		d.press(t, "Show me why")
	}},
	{"short", func(t *testing.T, d *Desk) { d.toCircuit(t, "coach-50a", "hot-to-body-short") }},
	{"swapped", func(t *testing.T, d *Desk) { d.toCircuit(t, "trailer-30a", "reversed-polarity") }},
	{"adapter", func(t *testing.T, d *Desk) { d.toCircuit(t, "trailer-30a-on-50a", "") }},
	{"generator", func(t *testing.T, d *Desk) { d.toCircuit(t, "coach-generator", "generator-floating") }},
	{"van", func(t *testing.T, d *Desk) { d.toCircuit(t, "van-inverter", "") }},
	{"house", func(t *testing.T, d *Desk) { d.toCircuit(t, "house-12v", "") }},
}

// The circuit page draws in every mode and at every size.
func TestCircuitPictures(t *testing.T) {
	for _, v := range []showing{
		{"light", look.Light, fyne.NewSize(1280, 1180)}, {"dark", look.Dark, fyne.NewSize(1280, 1180)},
		{"narrow", look.Light, fyne.NewSize(480, 2600)}, {"contrast", look.HighContrast, fyne.NewSize(1280, 1180)},
		{"middle", look.Light, fyne.NewSize(900, 1500)},
	} {
		for _, s := range circuitScenes {
			if *pictures == "" && (v.mode != look.Light || s.name != "open-neutral") {
				continue
			}
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				d := shippedDesk(t, v.size)
				d.set(func(s *Settings) { s.Mode = v.mode })
				s.lead(t, d)
				d.picture(t, "circuit-"+v.name+"-"+s.name)
			})
		}
	}
}
