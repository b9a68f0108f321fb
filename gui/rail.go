package gui

import (
	"faultwright/gui/frame"
	"faultwright/gui/place"
)

// The entries of the rail.
const (
	railFind     = "Find the cause"
	railPedestal = "Check a pedestal"
	railSuspects = "What fits"
	railCircuit  = "Circuit"
	railPractice = "Practice"
	railHandbook = "Handbook"
	railVehicles = "Vehicles"
	railVisits   = "Visits"
	railSettings = "Settings"
)

func (w *Window) rail() []frame.RailEntry {
	to := func(at place.Location) func() { return func() { w.Go(at) } }
	return []frame.RailEntry{
		{Name: railFind, Open: w.findCause},
		{Name: railPedestal, Open: to(place.Pedestal())},
		{Name: railSuspects, Open: to(place.Suspects(""))},
		{Name: railCircuit, Open: to(place.Circuit("", "", ""))},
		{Name: railPractice, Open: w.findPractice},
		{Name: railHandbook, Open: to(place.Handbook("", ""))},
		{Name: railVehicles, Open: to(place.Vehicles())},
		{Name: railVisits, Open: to(place.Visits())},
		{Name: railSettings, Open: to(place.Settings())},
	}
}

// findCause leads to the visit under way, or to the opening view if the
// reader is looking at that visit already, or at the sample, where nothing is to be found.
func (w *Window) findCause() {
	if v := w.session.Visit(); v != nil && !v.Sample() && w.Rail() != railFind {
		w.Go(v.Present())
		return
	}
	w.Go(place.Opening())
}

// findPractice leads to the scenario under way, or to the list if the reader is
// looking at it already.
func (w *Window) findPractice() {
	if at, ok := w.practice.UnderWay(); ok && w.Rail() != railPractice {
		w.Go(at)
		return
	}
	w.Go(place.Scenarios())
}
