// Package circuit is the page that shows a rig with its voltages and currents
// while a fault, the loads and the switches are turned.
package circuit

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"reflect"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree/lists"
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
	book    *content.Library
	at      place.Location    // what it was made for
	visit   *session.Visit    // as it stood then; nil for none
	account view.Account      // what was known of the vehicle that another page spoke of
	facts   map[string]string // of the vehicle in hand
	scene   *scene.Scene      // nil while the vehicle is worked out, and where that failed
	problem string            // why it failed
	taken   []scene.Taken     // the reader's own readings, if a finding led here
	about   []string          // what is shown where another page spoke of it, and how that differs; sentences
	why     scenes.Shown      // why each of the readings is what it is
	reason  int               // of why: the one on show; -1 for none
	of      *rig.Variant      // the fault that these are of
	focus   string            // the control that was used last, by its caption
}

// page shows the rig on the bench with live voltages and currents.
func (a *Area) page(place.Location) frame.Page {
	if a.bench.scene == nil {
		return a.waiting()
	}
	return newCircuit(a).page()
}

// arrive puts the rig of a place on the bench, unless it is there already, with
// the readings of the place's visit, if it has one.
func (a *Area) arrive(at place.Location) (string, error) {
	book, at, visit := a.session.Book(), at.Top(), a.session.UnderWay(at.Kind)
	account, known := a.account(at)
	if a.bench.book == book && a.bench.at == at && a.bench.visit == visit && reflect.DeepEqual(a.bench.account, account) && maps.Equal(a.bench.facts, a.session.Facts()) && (a.bench.scene != nil || a.window.Runner().Busy(jobWhy)) {
		return "", nil
	}
	if len(book.Rigs) == 0 {
		return "", errors.New("This handbook has no circuits.")
	}
	a.window.Runner().Cancel(jobWhy)
	b := bench{book: book, at: at, visit: visit, account: account, facts: a.session.Facts(), reason: -1, focus: a.bench.focus}
	if known {
		b.taken = scenes.TakenOf(account)
		return "", a.work(b, account)
	}
	shown, err := a.shown(at)
	switch {
	case err != nil:
		return "", fmt.Errorf("This circuit cannot be computed. %s", view.Sentence(err.Error()))
	case shown.Scene == nil:
		return "", errNoRig
	}
	a.put(b, scenes.Shown{Explanation: shown, First: -1})
	return "", nil
}

var errNoRig = errors.New("No circuit of this handbook can have this fault.")

// put puts a vehicle on the bench. The probes are as for the reading that tells
// most, or stay where they were, if the rig has these points.
func (a *Area) put(b bench, shown scenes.Shown) {
	b.scene, b.why, b.reason, b.of = shown.Scene, shown, shown.First, shown.Scene.Variant()
	if b.at.Kind != "" { // another page spoke of this vehicle
		b.about = append([]string{shown.Text}, shown.Differs...)
	}
	if a.bench.scene != nil && b.reason < 0 {
		b.scene.SetProbes(a.bench.scene.Probes())
	}
	a.bench = b
}

// shown makes the scene of a place: the vehicle of a scenario as it stands, or
// what was chosen on the page.
func (a *Area) shown(at place.Location) (scene.Explanation, error) {
	book, meter := a.session.Book(), a.session.Settings().Meter
	if s := a.session.Scenario(at.Kind); s != nil && at.ID == "" && at.Query == "" {
		return scenes.CaseShown(book, scenes.CaseOf(book, s), meter)
	}
	rigs := a.likeInHand(view.Rigs(book))
	chosen := book.Rigs[at.ID]
	if chosen != nil {
		rigs = []*rig.Rig{chosen}
	}
	if at.Query != "" {
		shown, err := a.session.Reasoning().Why(context.Background(), view.Account{}, scenes.Wanted{Faults: []string{at.Query}, Rigs: rigs})
		if err != nil || shown.Scene != nil || chosen == nil {
			return shown.Explanation, err
		}
	}
	s, err := scene.New(rigs[0], scenes.Book(book, meter)) // without a fault, also where the rig was changed under one that it cannot have
	return scene.Explanation{Scene: s, Text: rigs[0].Title + "."}, err
}

// likeInHand is the rigs with those first that can be of the vehicle in hand.
func (a *Area) likeInHand(rigs []*rig.Rig) []*rig.Rig {
	facts := a.session.Facts()
	like := func(r *rig.Rig) bool {
		for id, choice := range facts {
			if own := r.Facts[id]; own != "" && own != choice {
				return false
			}
		}
		return true
	}
	return append(lists.Where(rigs, like), lists.Where(rigs, func(r *rig.Rig) bool { return !like(r) })...)
}

// moveTo makes the present place another rig or fault, and shows it.
func (a *Area) moveTo(change func(*place.Location), focus string) {
	at := a.window.Here()
	change(&at)
	a.bench.focus = focus
	a.window.Replace(at)
}
