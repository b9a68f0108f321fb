package gui

import (
	"bytes"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"fyne.io/fyne/v2"

	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/logbook/store"
	"faultwright/faulttree/must"
	"faultwright/gui/frame/frametest"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

// withVehicles is a window over the shipped handbook that keeps vehicles on a disk that
// can be made to fail, in a folder that another window can have too.
func withVehicles(t *testing.T, dir string, size fyne.Size) (*window, *sessiontest.Vehiclebook, *days) {
	t.Helper()
	kept := must.Have(store.Open(filepath.Join(dir, "vehicles")))(t)
	t.Cleanup(func() { kept.Close() })
	clock := &days{}
	book := &sessiontest.Vehiclebook{Vehicles: kept}
	return openIn(t, dir, size, shipped, func(o *Options) { o.Vehicles, o.Now = book, clock.now }), book, clock
}

// days is a clock by which each visit is a day later than the one before it.
type days struct{ passed int }

func (d *days) now() time.Time {
	return time.Date(2026, 5, 3+d.passed, 9, 40, 0, 0, time.UTC)
}

// visit is a visit of the vehicle in hand, with a file of readings of which some are others.
func (w *window) visit(tree, readings string, instead map[string]string) {
	w.t.Helper()
	given, wrong := load.Readings(bytes.NewReader(must.Have(os.ReadFile(filepath.Join("../testdata/walks", readings)))(w.t)), readings, w.session.Book().Forest)
	must.Do(w.t, wrong.Err())
	for id, text := range instead {
		given.Readings[id] = []faulttree.Reading{must.Have(faulttree.ParseReading(text, w.session.Book().Forest.Quantities[id]))(w.t)}
	}
	begun := must.Have(w.session.Begin(faulttree.Ref{Tree: tree}))(w.t)
	must.Have(w.session.Supply(begun.To.ID, given))(w.t)
}

// A vehicle is named, walked three times, and its readings stand side by side.
func TestStoryOfAVehicle(t *testing.T) {
	w, _, clock := withVehicles(t, t.TempDir(), wide)
	w.Go(place.Opening())
	w.Want("Visits begin for a vehicle without a name.")
	w.Go(place.Vehicles())
	w.Want("No vehicle has a name here yet.")
	w.Press("Add a vehicle")
	w.Type("Willow")
	w.Press("50 A: four contacts")
	if nav, ok := w.Focused().(*look.Nav); !ok || !strings.Contains(nav.Plain(), "50 A: four contacts") {
		t.Errorf("after a choice the keyboard is on %T", w.Focused())
	}
	w.Check("Transfer switch", true)
	w.Shortcut(fyne.KeyReturn, fyne.KeyModifierControl) // from wherever the keyboard is
	w.WantSaid("“Willow” is kept.")
	w.Want("In hand: visits begin for it.", "Service: 50 A", "Aboard: transfer switch.", "No visit of it is on record yet.")
	kept := w.Here()
	w.StartSearch()
	w.Type("willow")
	w.Want("PAGES", "Vehicle: Willow")
	w.Key(fyne.KeyReturn)
	if !w.Here().Same(kept) {
		t.Errorf("its name leads to %+v", w.Here())
	}
	w.Press("Begin a visit of it")
	w.Want("Visits begin for “Willow”.")
	for _, volts := range []string{"0.4", "0.5", "1.9"} {
		w.visit("pedestal-50a", "pedestal-50a-open-neutral.yaml", map[string]string{"pedestal.n-g": volts})
		clock.passed += 7
	}
	w.Go(place.Vehicle(w.session.Visit().Record().Header.Vehicle))
	w.Want("Open the visit of 17 May 2026", "Draw 7 others", "0.4, 0.5, 1.9 V", "It rose every time", "clears nothing")
	w.Picture("vehicle-light")
	w.Go(place.Visits())
	w.Want("Willow")
	w.Go(place.Opening())
	w.Press("one without a name")
	w.Want("Visits begin for a vehicle without a name.")
}

// Two windows change one vehicle: the later is told, sees what stands there, has all it
// typed, and can keep it knowing that.
func TestStoryOfTwoWindowsOnAVehicle(t *testing.T) {
	dir := t.TempDir()
	w, book, _ := withVehicles(t, dir, wide)
	w.Go(place.KeepVehicle(""))
	w.Type("Willow")
	w.Press("Keep it")
	id := w.Here().ID
	w.Press("Change")
	other := must.Have(book.Read(id))(t)
	other.Note = "Kept by the other window."
	must.Have(book.Vehicles.Save(other))(t)
	w.Retype("Willow of site 14")
	w.Press("Keep it")
	w.WantSaid("Another window has changed this vehicle meanwhile.")
	w.Want("Kept by the other window.")
	if v := must.Have(book.Read(id))(t); v.Name != "Willow" {
		t.Errorf("on disk is %q", v.Name)
	}
	if w.Focused().(*look.Field).Text != "Willow of site 14" {
		t.Error("what was typed is gone")
	}
	w.Press("Keep it")
	w.Want("Willow of site 14")
}

// On a full disk nothing typed is lost, also after going elsewhere; a name of ten thousand
// letters is told, and shown nowhere so that it hides the page.
func TestStoryOfAFullDisk(t *testing.T) {
	w, book, _ := withVehicles(t, t.TempDir(), small)
	w.Go(place.KeepVehicle(""))
	w.Type("Willow")
	book.Full = true
	w.Press("Keep it")
	w.WantSaid("The vehicle was not kept, and what you typed is still here. No space is left on the disk.")
	w.Go(place.Visits())
	w.Go(place.KeepVehicle(""))
	w.WantSaid("These are your changes, which were not kept yet.")
	book.Full = false
	w.Retype(strings.Repeat("a", 10_000))
	w.Press("Keep it")
	w.WantSaid("The name has 10000 letters; at most 80 are kept")
	w.Retype(strings.Repeat("W", logbook.MostName))
	w.Press("Keep it")
	w.WantNothingCut()
	w.Go(place.Vehicles())
	w.WantNothingCut()
}

// Merging asks first, says where both differ, and never offers the vehicle itself; the
// visits of both stand on one page. Deleting asks, and says that a visit is under way.
func TestStoryOfMergingAndDeleting(t *testing.T) {
	w, _, _ := withVehicles(t, t.TempDir(), middle)
	for name, plug := range map[string]string{"Willow": "30a", "Heron": "50a"} {
		v := must.Have(w.session.KeepVehicle(logbook.Vehicle{Name: name, Facts: map[string]string{"service": plug}}))(t)
		must.Do(t, w.session.TakeInHand(v.ID))
		must.Have(w.session.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	}
	v := must.Have(w.session.Vehicle(w.session.Visit().Record().Header.Vehicle))(t)
	w.Go(place.MergeVehicle(v.ID, v.ID))
	w.Want("Which other one is “" + v.Name + "” as well?")
	other := map[string]string{"Willow": "Heron", "Heron": "Willow"}[v.Name]
	w.Press(other)
	w.Want("They differ:", "This cannot be undone.")
	w.Press("Make them one")
	w.WantSaid("They are one vehicle now.")
	w.Want("Merged: "+other, "Open the visit of 3 May 2026")
	if h := len(strings.Split(w.Text(), "Open the visit of")); h != 3 {
		t.Errorf("%d visits stand on the page", h-1)
	}
	w.Press("Delete")
	w.Want("The visit under way is one of its visits.")
	w.Press("Delete it with all its visits")
	w.WantSaid("was deleted.")
	w.Want("No vehicle has a name here yet.")
	if all := must.Have(w.visits.List())(t); len(all) > 0 || w.session.Visit() != nil {
		t.Errorf("on record is %v", all)
	}
	w.Go(place.Vehicle(v.ID))
	w.Want("This vehicle is not in the logbook any more.")
}

// Everywhere in the window it is the vehicle in hand: the plug of pictures, the circuit, and
// what is told under What fits. Practice has a vehicle of its own.
func TestWindowShowsTheVehicleInHand(t *testing.T) {
	w, _, _ := withVehicles(t, t.TempDir(), wide)
	rig := func() string {
		for _, list := range frametest.Find[*look.Select](w.Reader) {
			for _, r := range w.session.Book().Rigs {
				if list.Selected == r.Title {
					return r.Facts["service"]
				}
			}
		}
		t.Fatal("no rig is chosen:\n" + w.Text())
		return ""
	}
	for _, plug := range []string{"30a", "50a", "30a"} {
		v := must.Have(w.session.KeepVehicle(logbook.Vehicle{Name: "With " + plug, Facts: map[string]string{"service": plug}}))(t)
		must.Do(t, w.session.TakeInHand(v.ID))
		w.Go(place.Circuit("", "", ""))
		if rig() != plug {
			t.Errorf("%s: the circuit is of %s", plug, rig())
		}
		if w.session.Account().Facts["service"] != plug {
			t.Errorf("%s: told is %v", plug, w.session.Account().Facts)
		}
		w.begin(faulttree.Ref{Tree: "half-dead"})
		if face := w.session.Face().String(); w.session.Book().Forest.FactsOfPlug(face)["service"] != plug {
			t.Errorf("%s: pictures show %s", plug, face)
		}
	}
	w.Go(place.Settings())
	w.Want("THE PLUG OF A VEHICLE WITHOUT A NAME")
}

// The pages of a vehicle in every size and colour.
func TestVehiclePictures(t *testing.T) {
	w, _, clock := withVehicles(t, t.TempDir(), small)
	w.colours(look.Dark)
	v := must.Have(w.session.KeepVehicle(logbook.Vehicle{Name: "Willow", Note: "Site 14.", Facts: map[string]string{"service": "50a", "battery": "agm"}, Aboard: []string{"inverter"}}))(t)
	w.visit("half-dead", "half-dead-open-neutral.yaml", nil)
	must.Do(t, w.session.TakeInHand(v.ID))
	for _, volts := range []string{"0.4", "0.5", "1.9"} {
		w.visit("pedestal-50a", "pedestal-50a-open-neutral.yaml", map[string]string{"pedestal.n-g": volts})
		clock.passed += 7
	}
	for name, at := range map[string]place.Location{
		"list": place.Vehicles(), "page": place.Vehicle(v.ID), "form": place.KeepVehicle(v.ID), "delete": place.DiscardVehicle(v.ID), "merge": place.MergeVehicle(v.ID, ""), "opening": place.Opening(),
		"give": place.GiveVisit(w.session.Visit().ID()), "gather": place.GatherVisits(v.ID),
	} {
		w.Go(at)
		w.WantNothingCut()
		w.Picture("vehicles-" + name + "-dark-narrow")
	}
	w.set(func(s *session.Settings) { s.TextSize = 2 })
	for name, at := range map[string]place.Location{"page": place.Vehicle(v.ID), "give": place.GiveVisit(w.session.Visit().ID()), "gather": place.GatherVisits(v.ID)} {
		w.Go(at)
		w.WantNothingCut()
		w.Picture("vehicles-" + name + "-large-text")
	}
}

// A visit without a vehicle, and one of another, are given to a vehicle from its page and
// from the list of visits, and stand with its readings at once; giving one back undoes it.
func TestStoryOfAVisitGivenToAVehicle(t *testing.T) {
	w, _, clock := withVehicles(t, t.TempDir(), middle)
	ids := map[string]string{}
	for _, name := range []string{"Willow", "Heron"} {
		ids[name] = must.Have(w.session.KeepVehicle(logbook.Vehicle{Name: name}))(t).ID
	}
	for i, of := range []string{"", ids["Heron"], ids["Willow"]} {
		must.Do(t, w.session.TakeInHand(of))
		w.visit("pedestal-50a", "pedestal-50a-open-neutral.yaml", map[string]string{"pedestal.n-g": []string{"0.4", "0.5", "1.9"}[i]})
		clock.passed += 7
	}
	w.Go(place.Vehicle(ids["Willow"]))
	w.Want("Open the visit of 17 May 2026")
	w.Press("Add visits on record")
	w.Want("Which visits are of “Willow” as well?")
	if strings.Contains(w.Text(), "This one, of 17 May 2026") {
		t.Error("a visit of the vehicle is offered to it")
	}
	w.Press("This one, of 3 May 2026")
	w.WantSaid("The visit is of “Willow” now. It was of a vehicle without a name; giving it back undoes that.")
	w.Press("This one, of 10 May 2026")
	w.Want("There is no other visit on record.")
	w.WantNothingCut()
	w.Press("No more")
	w.Want("0.4, 0.5, 1.9 V")
	w.Go(place.Vehicle(ids["Heron"]))
	w.Want("No visit of it is on record yet.")

	w.Go(place.Visits())
	w.Press("Of which vehicle") // of the newest, which is under way
	w.Want("Of which vehicle is it?", "17 May", "●  Willow")
	w.WantNothingCut()
	w.Press("○  Heron")
	w.WantSaid("The visit is of “Heron” now. It was of “Willow”")
	w.Go(place.Vehicle(ids["Willow"]))
	w.Want("Open the visit of 10 May 2026")
	if strings.Contains(w.Text(), "17 May") || strings.Contains(w.Text(), "1.9") {
		t.Errorf("a visit that was given away stands there:\n%s", w.Text())
	}
}

// Of two vehicles of one name each page, button and question says which; keeping the second
// tells of the first.
func TestStoryOfTwoVehiclesOfOneName(t *testing.T) {
	w, _, _ := withVehicles(t, t.TempDir(), middle)
	first := must.Have(w.session.KeepVehicle(logbook.Vehicle{Name: "Heron", Facts: map[string]string{"service": "50a"}}))(t)
	w.Go(place.KeepVehicle(""))
	w.Type("Heron")
	w.Press("30 A: three contacts")
	w.Press("Keep it")
	w.WantSaid("Another vehicle of yours has the same name, so this one stands as “Heron (Service: 30 A)”.")
	w.Go(place.Vehicles())
	w.Want("In hand is “Heron (Service: 30 A)”", "Open Heron (Service: 30 A)", "Take Heron (Service: 50 A) in hand")
	w.Go(place.Opening())
	w.Want("Visits begin for “Heron (Service: 30 A)”.")
	for _, to := range []place.Location{place.Vehicle(first.ID), place.DiscardVehicle(first.ID), place.MergeVehicle(first.ID, ""), place.GatherVisits(first.ID)} {
		w.Go(to)
		w.Want("Heron (Service: 50 A)")
		w.WantNothingCut()
	}
	w.StartSearch()
	w.Type("heron")
	w.Want("Vehicle: Heron (Service: 50 A)", "Vehicle: Heron (Service: 30 A)")
	if strings.Contains(w.Text(), "No page has") {
		t.Errorf("the search says that there is none:\n%s", w.Text())
	}
}

// The visit under way is given away while it stands, and goes on; one that another window
// has open is told and stays.
func TestTheVisitUnderWayIsGivenAway(t *testing.T) {
	dir := t.TempDir()
	w, _, _ := withVehicles(t, dir, middle)
	v := must.Have(w.session.KeepVehicle(logbook.Vehicle{Name: "Willow", Facts: map[string]string{"service": "30a"}}))(t)
	w.visit("pedestal-50a", "pedestal-50a-open-neutral.yaml", nil)
	id, answers := w.session.Visit().ID(), len(w.session.Visit().Walk().Trail())
	other, _, _ := withVehicles(t, dir, middle)
	other.Go(place.GiveVisit(id))
	other.Press("○  Willow")
	other.WantSaid("The visit was not given to another vehicle. It is open in another window")
	w.Go(place.GiveVisit(id))
	w.Press("○  Willow")
	if now := w.session.Visit(); now.ID() != id || now.Record().Vehicle() != v.ID || now.Record().Details().Vehicle != "Willow" || len(now.Walk().Trail()) != answers {
		t.Errorf("the visit is %s of %q", now.ID(), now.Record().Vehicle())
	}
	w.Go(place.GiveVisit(id))
	w.Press("One without a name")
	if now := w.session.Visit().Record(); now.Vehicle() != "" || now.Details().Vehicle != "" {
		t.Errorf("given back it is of %q, its sheet of %q", now.Vehicle(), now.Details().Vehicle)
	}
}
