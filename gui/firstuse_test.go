package gui

import (
	"fmt"
	"slices"
	"strings"
	"testing"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// From nothing to the first step of a walk it takes two choices, by keys alone:
// who reads, and what is happening.
func TestTwoChoicesToTheFirstUsefulScreen(t *testing.T) {
	for _, digit := range []string{"1", "2"} {
		w := open(t, small, shipped)
		must.Do(t, w.session.Set(func(s *session.Settings) { s.Welcomed = false }))
		w.Go(place.Opening())
		w.Want("Who will take the readings?")
		w.Pick(digit)
		w.Want("What is happening?")
		w.Pick("1")
		if v := w.session.Visit(); w.Here().Page != place.WalkPage || v == nil || v.Walk().Ended() {
			t.Errorf("after %s and 1 at %v", digit, w.Here())
		}
	}
}

// The sample visit says on every page that it is one, cannot be answered, has no sheet,
// and is not on record.
func TestTheSampleIsClearlyASample(t *testing.T) {
	for _, role := range []faulttree.Role{faulttree.Owner, faulttree.Qualified} {
		w := open(t, small, shipped)
		must.Do(t, w.session.Set(func(s *session.Settings) { s.Role = role }))
		w.Go(place.Visits())
		w.Press("Look at a sample")
		v := w.session.Visit()
		if v == nil || !v.Walk().Ended() {
			t.Fatalf("%v: the sample ends in no finding: %v\n%s\n%s", role, v, w.Said(), w.Text())
		}
		for i := range len(v.Walk().Trail()) + 1 {
			w.Go(place.Walk(v.ID(), i))
			w.Want("SAMPLE: a visit of no real vehicle")
			w.WantNothingCut()
		}
		if strings.Contains(w.Text(), "Make the sheet") || strings.Contains(w.Text(), "Test after repair") {
			t.Errorf("%v: the sample can be handed on:\n%s", role, w.Text())
		}
		w.Go(place.Sheet(v.ID()))
		w.Want("there is no sheet of it")
		w.Go(place.Visits())
		w.Want("No visit is on record yet")
		w.findCause() // begins a visit of one's own, and is not led to made-up readings
		w.Want("What is happening?")
		if kept := must.Have(w.visits.List())(t); len(kept) > 0 {
			t.Errorf("%v: kept %v", role, kept)
		}
	}
}

// The check of a pedestal offers the walks that are of the supply alone, and no other.
func TestACheckOfAPedestalIsOneOfThePedestal(t *testing.T) {
	w := open(t, wide, shipped)
	w.Go(place.Pedestal())
	var offered []string
	for _, c := range frametest.Find[*look.Choice](w.Reader) {
		offered = append(offered, c.Title())
	}
	want := []string{"A 30 A pedestal not trusted yet", "A 50 A pedestal not trusted yet", "A pedestal not trusted yet"}
	if !slices.Equal(offered, want) {
		t.Errorf("offered are %q, want %q", offered, want)
	}
}

// What somebody sees first is whole at every size of window and text: nothing is cut,
// nothing lies over anything else, and Tab comes to all that can be pressed.
func TestFirstUseAtEverySize(t *testing.T) {
	for _, size := range []fyne.Size{small, wide, fyne.NewSize(3840, 2160)} {
		for _, text := range []float32{1, 2} {
			name := fmt.Sprintf("%vx%v at %v", size.Width, size.Height, text)
			t.Run(name, func(t *testing.T) {
				w, _, _ := withVehicles(t, t.TempDir(), size)
				must.Do(t, w.session.Set(func(s *session.Settings) { s.Welcomed, s.TextSize = false, text }))
				w.SetLook("light", text)
				whole := func(what string) {
					w.WantNothingCut()
					w.WantNothingOverlapping()
					w.WantAllByKeys()
					w.Picture("first-" + name + "-" + what)
				}
				for _, at := range []place.Location{
					place.Welcome(), place.Visits(), place.Vehicles(), place.KeepVehicle(""), place.Suspects(""), place.Circuit("", "", ""),
					place.Scenarios(), place.Class(), place.Tasks(), place.HandedIn(), place.Handbook("", ""), place.Search(""), place.Search("flow"),
					place.Settings(), place.Pedestal(), place.Print("heat"), place.Flow("half-dead", ""), place.Edited("", 0), place.Problems(),
				} {
					w.Go(at)
					if at == place.Welcome() {
						whole("welcome")
						w.Pick("1")
						at = place.Opening()
					}
					whole(string(at.Page) + at.Query)
				}
				w.Go(place.Visits())
				w.Press("Look at a sample")
				whole("sample")
				w.Go(place.Walk(w.session.Visit().ID(), len(w.session.Visit().Walk().Trail())))
				whole("finding")
				w.toShippedBody()
				whole("step")
				w.Answer("58")
				whole("stop")
				w.Go(place.Scenarios())
				w.Pick("1")
				whole("scenario")
				w.Pick("1")
				whole("practice")
			})
		}
	}
}
