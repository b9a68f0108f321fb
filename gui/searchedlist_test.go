package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// A list of readings that is searched for leads to the page of suspects, which
// gets it as typed.
func TestStoryOfASearchedList(t *testing.T) {
	w := open(t, wide, shipped)
	w.Add(map[place.Page]frame.Entry{place.SuspectsPage: {Build: func(at place.Location) frame.Page {
		return frame.Page{Body: []fyne.CanvasObject{look.NewText("What fits " + at.Query)}}
	}}})
	w.Type("/")
	w.Type("L1-N 59 L2-N 177 N-G 59")
	w.Want("LIST OF READINGS", "These readings: find what fits them")
	w.Key(fyne.KeyReturn) // the first hit
	if at := w.Here(); at != place.Suspects("L1-N 59 L2-N 177 N-G 59") {
		t.Errorf("the list leads to %+v", at)
	}
	w.Want("What fits L1-N 59 L2-N 177 N-G 59")
}
