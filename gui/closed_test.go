package gui

import (
	"testing"

	"faultwright/content/class"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// While a learner is at the vehicle of an assignment that closes the handbook, the
// handbook is not shown, and the window says why.
func TestWhatAnAssignmentClosesIsSaid(t *testing.T) {
	w := open(t, wide, shipped)
	s := w.session.Book().Scenarios["buzz-after-the-rain"]
	task := func(o class.Open) session.Task {
		return session.Task{
			Assignment: &class.Assignment{Title: "Tingles", Open: o, Tasks: []class.Task{{Scenario: s.ID}}}, Learner: "Wren", Scenario: s,
			Header: practice.Header{Case: s.ID, Role: faulttree.Qualified},
		}
	}
	w.session.Assign(task(class.Open{}))
	w.Go(place.Task(s.ID))
	w.Press("Go to the vehicle")
	for _, to := range []place.Location{place.Handbook("", ""), place.Document("fault", "open-neutral"), place.Suspects(""), place.Circuit("", "", s.ID), place.Flow("pedestal", ""), place.Print("pedestal")} {
		w.Go(to)
		w.WantSaid("Your assignment closes this while you are at the vehicle.")
		if at := w.Here(); !at.Same(place.Task(s.ID)) {
			t.Errorf("%+v is shown instead of the vehicle", at)
		}
	}
	w.Go(place.Settings())
	if w.Here().Page != place.SettingsPage || w.Said() != "" {
		t.Errorf("the settings are closed too: %+v, %q", w.Here(), w.Said())
	}
}
