package gui

import (
	"testing"

	"fyne.io/fyne/v2"
)

// From the opening view through the tree of a felt tingle to DANGER, a card,
// and back, with the keyboard alone.
func TestStoryFromTingleToDanger(t *testing.T) {
	d := desk(t, wide)
	d.wantShown(t, "What is happening?", "A tingle or a shock")
	d.typeIn(t, "1")
	d.wantShown(t, "Was a tingle felt?")
	d.typeIn(t, "1")
	d.wantShown(t, "Prove the meter on an outlet that works", "SO FAR")
	d.typeIn(t, "119.8")
	d.key(fyne.KeyReturn)
	d.wantShown(t, "Measure from bare metal of the body")
	d.typeIn(t, "58")
	d.wantShown(t, "Leads to: stop")
	d.key(fyne.KeyReturn)
	d.wantShown(t, "Stop, the body is live", "Pull the plug")
	d.key(fyne.KeyReturn)
	d.wantShown(t, "Stop, the body is live") // a second Enter must not leave a STOP
	d.typeIn(t, "1")
	d.typeIn(t, "OL")
	d.key(fyne.KeyReturn)
	d.wantShown(t, "The grounding conductor is lost", "WHAT SHOWS IT", "58 V")
}
