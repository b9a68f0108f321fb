package circuit

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/frame/frametest"
)

// circuitScenes are the states of the circuit page worth a picture.
var circuitScenes = []struct {
	name string
	lead func(w *window)
}{
	{"healthy", func(w *window) {
		w.toCircuit("coach-50a", "")
		w.area.bench.scene.SetProbes("panel.l1", "panel.n")
		w.Render()
	}},
	{"open-neutral", func(w *window) {
		w.toCircuit("coach-50a", "open-neutral")
		w.area.bench.scene.SetProbes("panel.l2", "panel.n")
		w.Render()
		w.Choose("in the cord")
	}},
	{"open-neutral-turned", func(w *window) {
		w.toCircuit("coach-50a", "open-neutral")
		w.area.bench.scene.SetProbes("panel.l2", "panel.n")
		w.Render()
		w.Choose("in the cord")
		w.dial("Loads on L1").Turn(0.2)
		w.dial("Loads on L2").Turn(0.9)
	}},
	{"lost-ground", func(w *window) {
		w.toCircuit("trailer-30a", "open-ground")
		w.area.bench.scene.SetProbes("body", "earth")
		w.Render()
		w.Choose("in the cord")
	}},
	{"short", func(w *window) { w.toCircuit("coach-50a", "hot-to-body-short") }},
	{"swapped", func(w *window) { w.toCircuit("trailer-30a", "reversed-polarity") }},
	{"adapter", func(w *window) { w.toCircuit("trailer-30a-on-50a", "") }},
	{"generator", func(w *window) { w.toCircuit("coach-generator", "generator-floating") }},
	{"van", func(w *window) { w.toCircuit("van-inverter", "") }},
	{"house", func(w *window) { w.toCircuit("house-12v", "") }},
}

// The circuit page draws in every mode and at every size.
func TestCircuitPictures(t *testing.T) {
	for _, v := range []struct {
		name, colours string
		size          fyne.Size
	}{
		{"light", "light", fyne.NewSize(1280, 1180)}, {"dark", "dark", fyne.NewSize(1280, 1180)},
		{"narrow", "light", fyne.NewSize(480, 2600)}, {"contrast", "high-contrast", fyne.NewSize(1280, 1180)},
		{"middle", "light", fyne.NewSize(900, 1500)},
	} {
		for _, s := range circuitScenes {
			if *frametest.Pictures == "" && (v.colours != "light" || s.name != "open-neutral") {
				continue
			}
			t.Run(v.name+"/"+s.name, func(t *testing.T) {
				w := open(t, v.size)
				w.SetLook(v.colours, 1)
				s.lead(w)
				w.Picture("circuit-" + v.name + "-" + s.name)
			})
		}
	}
}
