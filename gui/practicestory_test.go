package gui

import (
	"math"
	"math/cmplx"
	"regexp"
	"strconv"
	"strings"
	"testing"

	"faultwright/content/view/scenes"
	"faultwright/faulttree/must"
	"faultwright/gui/place"
)

// A practice opens in the circuit as it was: the same vehicle, place and loads,
// so that the body stands where the learner's meter showed it.
func TestStoryTurnsAPracticeInTheCircuit(t *testing.T) {
	w := openShipped(t, wide)
	w.Go(place.Scenario("buzz-after-the-rain"))
	scenario := w.session.Scenario("buzz-after-the-rain")
	learner := must.Have(scenes.CaseOf(w.session.Book(), scenario).Begin(w.session.Settings().Meter))(t)
	vehicle := must.Have(learner.Picture())(t)
	w.Press("On my own")
	w.conclude("The grounding conductor is open (supply, cord, vehicle)", "The site's supply", "Plug in nothing. Tell the site office; the neighbours", "The site's electrician")
	w.Press("Turn it in the circuit")
	w.Want(scenario.Rig.Title, "The grounding conductor is open, ")
	for name, points := range map[string][2]string{"Body to earth": {"body", "earth"}, "L1 to neutral, panel": {"panel.l1", "panel.n"}, "Neutral to ground, panel": {"panel.n", "panel.g"}} {
		want := cmplx.Abs(vehicle.Volts[points[0]] - vehicle.Volts[points[1]])
		if shown := w.volts(name + `\s+([0-9.]+) V`); math.Abs(shown-want) > 0.05 { // shown in steps of 0.1 V
			t.Errorf("%s: the practice has %v V, the circuit shows %v V", name, want, shown)
		}
	}
}

// A walk beside a practice is marked as practice everywhere: it is not offered as
// unfinished, has no sheet for an electrician, and is with the attempt.
func TestWalkBesideAPractice(t *testing.T) {
	w := openShipped(t, wide)
	w.Go(place.Scenario("buzz-after-the-rain"))
	w.Press("With help at hand")
	w.Press("Take the walk beside it")
	w.Want("Practice: this walk is about no real vehicle.")
	visit := w.session.Visit()
	if visit == nil || !visit.Practice() {
		t.Fatalf("no walk is taken beside the practice:\n%s", w.Text())
	}
	w.Go(place.Opening())
	for _, word := range []string{"Unfinished", "Go on"} {
		if strings.Contains(w.Text(), word) {
			t.Errorf("the opening page says %q:\n%s", word, w.Text())
		}
	}
	w.Go(place.Sheet(visit.ID()))
	w.Want("there is no sheet of it")
	w.Go(place.Scenario("buzz-after-the-rain"))
	w.Press("Take the walk beside it") // goes on with it
	if w.session.Visit() != visit || w.Here().ID != visit.ID() {
		t.Errorf("another walk was begun: %+v", w.Here())
	}
}

// volts is the number that a pattern finds on the page.
func (w *window) volts(pattern string) float64 {
	w.t.Helper()
	found := regexp.MustCompile(pattern).FindStringSubmatch(w.Text())
	if found == nil {
		w.t.Fatalf("the page has nothing like %s:\n%s", pattern, w.Text())
	}
	v, err := strconv.ParseFloat(found[1], 64)
	if err != nil {
		w.t.Fatal(err)
	}
	return v
}
