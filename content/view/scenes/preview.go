package scenes

import (
	"math"
	"slices"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/scene"
)

// Previewed is what a meter would read now, and what it would in a vehicle in order.
type Previewed struct {
	Title        string // of the quantity
	Shown, Sound string
	Differs      bool
	Danger       bool   // it reaches a limit from which on it hurts
	Why          string // what that danger is, a sentence; "" for none
}

// mostPreviewed is how many readings a preview shows.
const mostPreviewed = 10

// Preview is what a meter that is used as it should be reads now at the points that
// matter: those that hurt first, then those that are otherwise than in a vehicle in
// order, then the others of its trees. A form that is not complete shows as far as
// it goes; without a rig there is nothing.
func (f Form) Preview(lib *content.Library, m faulttree.Meter) ([]Previewed, error) {
	s, _ := f.made(lib)
	if s.Rig == nil {
		return nil, nil
	}
	s.May = nil
	for _, x := range s.Rig.Switches { // a preview is not bound to what the learner may throw
		s.May = append(s.May, x.Name)
	}
	r := &Reasoning{lib: lib, meter: m}
	qs := Permitted(lib, s)[0]
	now, err := r.readAll(s, qs)
	if err != nil {
		return nil, err
	}
	sound := *s
	sound.Faults = nil
	was, err := r.readAll(&sound, qs)
	if err != nil {
		return nil, err
	}
	before := map[string]faulttree.Reading{}
	for _, e := range was {
		before[e.Quantity.ID] = e.Reading
	}
	var out []Previewed
	for _, e := range now {
		if e.Reading.Quality == faulttree.NotPossible {
			continue
		}
		p := Previewed{Title: e.Quantity.Title, Shown: e.Reading.Text, Sound: before[e.Quantity.ID].Text}
		if alarms := view.AlarmsOf(lib, view.Account{Facts: s.Rig.Facts}.With(e), m); len(alarms) > 0 {
			p.Danger, p.Why = true, alarms[0].Texts[0]
		}
		p.Differs = !alike(e.Reading, before[e.Quantity.ID], e.Quantity, m)
		out = append(out, p)
	}
	slices.SortStableFunc(out, func(a, b Previewed) int {
		return (asInt(b.Danger)*2 + asInt(b.Differs)) - (asInt(a.Danger)*2 + asInt(a.Differs))
	})
	return out[:min(len(out), mostPreviewed)], nil
}

// Scene is the vehicle of a form on show, as a learner comes to it; nil without a rig.
func (f Form) Scene(lib *content.Library, m faulttree.Meter) (*scene.Scene, error) {
	s, _ := f.made(lib)
	if s.Rig == nil {
		return nil, nil
	}
	shown, err := CaseShown(lib, CaseOf(lib, s), m)
	return shown.Scene, err
}

// alike reports whether nobody would take two readings for different ones: by the
// error of the meter, or by two percent.
func alike(a, b faulttree.Reading, q faulttree.Quantity, m faulttree.Meter) bool {
	if !a.Numeric() || !b.Numeric() {
		return a.Quality == b.Quality
	}
	apart, room := (a.High - b.High).Float(), (m.Uncertainty(a, q) + m.Uncertainty(b, q)).Float()
	floor := map[faulttree.Unit]float64{faulttree.VoltsAC: 1, faulttree.VoltsDC: 0.05, faulttree.Ohms: 0.3, faulttree.AmpsAC: 0.1, faulttree.AmpsDC: 0.1}[q.Unit]
	return math.Abs(apart) <= max(room, floor, 0.02*math.Abs(b.High.Float()))
}
