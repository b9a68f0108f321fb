// Package circuit is the page that shows a rig with its voltages and currents
// while a fault, the loads and the switches are turned.
package circuit

import (
	"errors"
	"fmt"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
	"faultwright/gui/frame"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Window is what the page asks of the window around it.
type Window interface {
	parts.Window
	Here() place.Location
	Back()
	Render()
	Replace(place.Location)
	CopyPage()
}

// Session is what it asks of the session.
type Session interface {
	Book() *content.Library
	Settings() session.Settings
	UnderWay(visit string) *session.Visit
}

// Area is the page of the circuit.
type Area struct {
	window  Window
	session Session
	bench   bench
}

// New makes the page.
func New(w Window, s Session) *Area { return &Area{window: w, session: s} }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.CircuitPage: {Rail: rail, Arrive: a.arrive, Build: a.page}}
}

// bench is the rig on show.
type bench struct {
	book  *content.Library
	at    place.Location // what it was made for
	scene *scene.Scene
	taken []scene.Taken // the reader's own readings, if a finding led here
	focus string        // the control that was used last, by its caption
}

// page shows the rig on the bench with live voltages and currents.
func (a *Area) page(place.Location) frame.Page { return newCircuit(a).page() }

// arrive puts the rig of a place on the bench, unless it is there already, with
// the readings of the place's visit beside the model's.
func (a *Area) arrive(at place.Location) (string, error) {
	book, at := a.session.Book(), at.Top()
	if a.bench.book == book && a.bench.at == at {
		return "", nil
	}
	if len(book.Rigs) == 0 {
		return "", errors.New("This handbook has no circuits.")
	}
	b := bench{book: book, at: at, focus: a.bench.focus}
	rigs := view.Rigs(book)
	if r := book.Rigs[at.ID]; r != nil {
		rigs = []*rig.Rig{r}
	}
	to := scene.Situation{Fault: at.Query}
	if v := a.session.UnderWay(at.Kind); v != nil {
		to = view.SituationOf(v.Walk(), at.Query)
		b.taken = to.Taken
		if at.ID == "" {
			rigs = view.RigsOf(book, v.Walk().Start().Tree)
		}
	}
	var err error
	if b.scene, err = a.sceneOf(at, rigs, to); err != nil {
		return "", err
	}
	if a.bench.scene != nil { // the probes stay where they were, if the rig has these points
		b.scene.SetProbes(a.bench.scene.Probes())
	}
	a.bench = b
	return "", nil
}

func (a *Area) sceneOf(at place.Location, rigs []*rig.Rig, to scene.Situation) (s *scene.Scene, err error) {
	known := view.SceneBook(a.session.Book(), a.session.Settings().Meter)
	if at.Query != "" {
		var shown scene.Shown
		shown, err = scene.Why(rigs, known, to)
		s = shown.Scene
	}
	if s == nil && err == nil && (at.Query == "" || at.ID != "") { // a rig that was changed under the fault may be without it
		s, err = scene.New(rigs[0], known)
	}
	switch {
	case err != nil:
		return nil, fmt.Errorf("This circuit cannot be computed. %s", view.Sentence(err.Error()))
	case s == nil:
		return nil, errors.New("No circuit of this handbook can have this fault.")
	}
	return s, nil
}

// moveTo makes the present place another rig or fault, and shows it.
func (a *Area) moveTo(change func(*place.Location), focus string) {
	at := a.window.Here()
	change(&at)
	a.bench.focus = focus
	a.window.Replace(at)
}
