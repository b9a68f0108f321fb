// Package circuit is the page that shows a rig with its voltages and currents
// while a fault, the loads and the switches are turned.
package circuit

import (
	"errors"
	"fmt"
	"maps"

	"faultwright/content"
	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/gui/frame"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the page of the circuit.
type Area struct {
	window  *frame.Frame
	session *session.Session
	bench   bench
}

// New makes the page.
func New(w *frame.Frame, s *session.Session) *Area { return &Area{window: w, session: s} }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.CircuitPage: {Rail: rail, Arrive: a.arrive, Build: a.page}}
}

// bench is the rig on show.
type bench struct {
	book  *content.Library
	at    place.Location // what it was made for
	visit *session.Visit // as it stood then; nil for none
	scene *scene.Scene
	taken []scene.Taken // the reader's own readings, if a finding led here
	about []string      // what is shown where another page spoke of it, and how that differs; sentences
	focus string        // the control that was used last, by its caption
}

// page shows the rig on the bench with live voltages and currents.
func (a *Area) page(place.Location) frame.Page { return newCircuit(a).page() }

// arrive puts the rig of a place on the bench, unless it is there already, with
// the readings of the place's visit, if it has one.
func (a *Area) arrive(at place.Location) (string, error) {
	book, at, visit := a.session.Book(), at.Top(), a.session.UnderWay(at.Kind)
	if a.bench.book == book && a.bench.at == at && a.bench.visit == visit {
		return "", nil
	}
	if len(book.Rigs) == 0 {
		return "", errors.New("This handbook has no circuits.")
	}
	shown, err := a.shown(at)
	switch {
	case err != nil:
		return "", fmt.Errorf("This circuit cannot be computed. %s", view.Sentence(err.Error()))
	case shown.Scene == nil:
		return "", errors.New("No circuit of this handbook can have this fault.")
	}
	b := bench{book: book, at: at, visit: visit, scene: shown.Scene, focus: a.bench.focus}
	if visit != nil {
		b.taken = scenes.TakenIn(visit.Walk())
	}
	if at.Kind != "" { // another page spoke of this vehicle
		b.about = append([]string{shown.Text}, shown.Differs...)
	}
	if a.bench.scene != nil { // the probes stay where they were, if the rig has these points
		b.scene.SetProbes(a.bench.scene.Probes())
	}
	a.bench = b
	return "", nil
}

// shown makes the scene of a place: the vehicle of a scenario as it stands, a
// fault in the vehicle and the place that the readings of a visit tell, or what
// was chosen on the page.
func (a *Area) shown(at place.Location) (scene.Explanation, error) {
	book, meter := a.session.Book(), a.session.Settings().Meter
	if s := a.session.Scenario(at.Kind); s != nil && at.ID == "" && at.Query == "" {
		return scenes.CaseShown(book, scenes.CaseOf(book, s), meter)
	}
	rigs, to := view.Rigs(book), scene.Situation{Fault: at.Query}
	if v := a.session.UnderWay(at.Kind); v != nil {
		rigs, to = view.RigsOf(book, v.Walk().Start().Tree), scenes.SituationOf(v.Walk(), at.Query)
		// the usual face is left out: who has never set it may have another plug
		if face := a.session.Settings().Face; book.Forest.Plug(to.Facts) == "" && face != figure.Face14_50 {
			maps.Copy(to.Facts, book.Forest.FactsOfPlug(face.String()))
		}
	}
	chosen := book.Rigs[at.ID]
	if chosen != nil {
		rigs = []*rig.Rig{chosen}
	}
	known := scenes.Book(book, meter)
	if at.Query != "" {
		shown, err := scene.Why(rigs, known, to)
		if err != nil || shown.Scene != nil || chosen == nil {
			return shown, err
		}
	}
	s, err := scene.New(rigs[0], known) // without a fault, also where the rig was changed under one that it cannot have
	return scene.Explanation{Scene: s, Text: rigs[0].Title + "."}, err
}

// moveTo makes the present place another rig or fault, and shows it.
func (a *Area) moveTo(change func(*place.Location), focus string) {
	at := a.window.Here()
	change(&at)
	a.bench.focus = focus
	a.window.Replace(at)
}
