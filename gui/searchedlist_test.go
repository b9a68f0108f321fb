package gui

import (
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/gui/place"
)

// A list of readings that is searched for leads to the page of suspects, which
// gets it as typed and asks what it lacks; from there a walk begins with it.
func TestStoryOfASearchedList(t *testing.T) {
	w := open(t, wide, shipped)
	w.Type("/")
	w.Type("L1-N 59 L2-N 177 N-G 59")
	w.Want("LIST OF READINGS", "These readings: find what fits them")
	w.Key(fyne.KeyReturn) // the first hit
	if at := w.Here(); at != place.Suspects("L1-N 59 L2-N 177 N-G 59") {
		t.Errorf("the list leads to %+v", at)
	}
	w.Want("Where were these read?")
	w.Press("The distribution panel")
	w.Press("Loads on")
	w.Want("Panel: L2 to neutral, loads on", "The neutral is open (cord)")
	w.Press("Half dead or all dead")
	if v := w.session.Visit(); v == nil || v.Walk().Start().Tree != "half-dead" {
		t.Fatalf("no walk has begun:\n%s", w.Text())
	}
	if given := w.session.Visit().Record().Records; len(given) == 0 {
		t.Error("the walk knows none of the readings")
	}
}
