package session_test

import (
	"bytes"
	"context"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"faultwright/content/figure"
	"faultwright/content/load"
	"faultwright/faulttree"
	"faultwright/faulttree/logbook"
	vehicles "faultwright/faulttree/logbook/store"
	"faultwright/faulttree/must"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/session"
	"faultwright/gui/session/sessiontest"
)

// own is a session over the shipped handbook that keeps visits and vehicles, each on a
// disk that can be made to fail.
type own struct {
	*session.Session
	t      *testing.T
	dir    string
	visits *sessiontest.Disk
	kept   *sessiontest.Vehiclebook
}

// ownIn is such a session over a folder, as a second window has it too.
func ownIn(t *testing.T, dir string) own {
	t.Helper()
	visits := must.Have(store.Open(filepath.Join(dir, "visits")))(t)
	book := must.Have(vehicles.Open(filepath.Join(dir, "vehicles")))(t)
	o := own{t: t, dir: dir, visits: &sessiontest.Disk{Visits: session.OnDisk(visits)}, kept: &sessiontest.Vehiclebook{Vehicles: book}}
	now := func() time.Time { return time.Date(2026, 5, 3, 9, 40, 0, 0, time.UTC) }
	o.Session = must.Have(session.New(session.Options{Settings: filepath.Join(dir, "settings.json"), Visits: o.visits, Vehicles: o.kept, Now: now}))(t)
	t.Cleanup(func() { o.Close(); visits.Close(); book.Close() })
	o.UseBook(load.Shipped())
	return o
}

// add adds a vehicle with the facts and has it in hand.
func (o own) add(name string, facts map[string]string) logbook.Vehicle {
	o.t.Helper()
	v := must.Have(o.KeepVehicle(logbook.Vehicle{Name: name, Facts: facts}))(o.t)
	must.Do(o.t, o.TakeInHand(v.ID))
	return v
}

// walk begins a walk and gives it a file of readings.
func (o own) walk(tree, readings string) session.Outcome {
	o.t.Helper()
	text := must.Have(os.ReadFile(filepath.Join("../../testdata/walks", readings)))(o.t)
	given, wrong := load.Readings(bytes.NewReader(text), readings, o.Book().Forest)
	must.Do(o.t, wrong.Err())
	begun := must.Have(o.Begin(faulttree.Ref{Tree: tree}))(o.t)
	out := must.Have(o.Supply(begun.To.ID, given))(o.t)
	return out
}

// A visit of a vehicle takes what is known of it, and only what stays the same from visit
// to visit: what feeds it now is asked.
func TestVisitTakesWhatLasts(t *testing.T) {
	o := ownIn(t, t.TempDir())
	v := o.add("Willow", map[string]string{"service": "30a", "source": "generator", "battery": "agm", "made-up": "x"})
	out := must.Have(o.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	visit := o.Visit()
	if h := visit.Record().Header; h.Vehicle != v.ID || h.Details.Vehicle != "Willow" || !strings.Contains(out.Said, "Willow") {
		t.Errorf("the visit is of %q, %q; the window says %q", h.Vehicle, h.Details.Vehicle, out.Said)
	}
	facts := visit.Facts()
	if facts["service"] != "30a" || facts["battery"] != "agm" || facts["source"] != "" || facts["made-up"] != "" {
		t.Errorf("the visit knows %v", facts)
	}
	if visit.Account().Facts["service"] != "30a" || o.Face() != figure.FaceTT30 {
		t.Errorf("what fits knows %v, pictures show %v", visit.Account().Facts, o.Face())
	}
	if o.Account().Facts["service"] != "30a" {
		t.Errorf("what is told outside of a visit is %v", o.Account().Facts)
	}
	must.Do(t, o.TakeInHand(""))
	if len(o.Account().Facts) > 0 || o.Face() != figure.Face14_50 {
		t.Errorf("without a vehicle it is %v, %v", o.Account().Facts, o.Face())
	}
	must.Have(o.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	if visit := o.Visit(); visit.Record().Header.Vehicle != "" || len(visit.Facts()) > 0 || o.Visit().Practice() {
		t.Errorf("one without a name is %+v", visit.Record().Header)
	}
}

// Practice is about no vehicle of the reader.
func TestPracticeIsApart(t *testing.T) {
	o := ownIn(t, t.TempDir())
	o.add("Willow", map[string]string{"service": "30a"})
	must.Have(o.BeginBeside("half-dead", "2026-05-03-k7fqm"))(t)
	if h := o.Visit().Record().Header; h.Vehicle != "" || h.Details.Vehicle != "" || len(o.Visit().Facts()) > 0 {
		t.Errorf("practice is of %+v, and knows %v", h, o.Visit().Facts())
	}
}

// What a walk asked of what lasts is kept with the vehicle once the walk has ended, and
// one that says otherwise is told and changes nothing.
func TestWalkTeachesTheVehicle(t *testing.T) {
	o := ownIn(t, t.TempDir())
	v := o.add("Willow", nil)
	o.walk("half-dead", "half-dead-adapter-burnt.yaml")
	if !o.Visit().Walk().Ended() {
		t.Fatalf("the walk wants %s", o.Visit().Walk().Wants())
	}
	now := must.Have(o.Vehicle(v.ID))(t)
	if len(now.Facts) != 1 || now.Facts["service"] != "30a" {
		t.Errorf("the vehicle knows %v; want its plug, and not what fed it", now.Facts)
	}
	now.Facts = map[string]string{"service": "50a"}
	must.Have(o.KeepVehicle(now))(t)
	i := 0
	for o.Visit().Walk().Trail()[i].Step != faulttree.FactRef("service") {
		i++
	}
	out := must.Have(o.Change(o.Visit().ID(), i, faulttree.Answer{Choice: "30a"}))(t)
	if !strings.Contains(out.Said, "differs from what is noted of “Willow”") {
		t.Errorf("the window says %q", out.Said)
	}
	if again := must.Have(o.Vehicle(v.ID))(t); again.Facts["service"] != "50a" {
		t.Errorf("the vehicle was changed: %v", again.Facts)
	}
}

// Of two windows that change one vehicle the later is told, nothing is written over, and
// it can keep its own knowing that.
func TestTwoWindowsChangeAVehicle(t *testing.T) {
	dir := t.TempDir()
	one := ownIn(t, dir)
	two := ownIn(t, dir)
	v := one.add("Willow", nil)
	theirs := must.Have(two.Vehicle(v.ID))(t)
	v.Note, theirs.Note = "one", "two"
	must.Have(one.KeepVehicle(v))(t)
	theirs, err := two.KeepVehicle(theirs)
	if err != session.ErrChanged || theirs.Note != "two" || must.Have(two.Vehicle(v.ID))(t).Note != "one" {
		t.Fatalf("%v; it would keep %q", err, theirs.Note)
	}
	must.Have(two.KeepVehicle(theirs))(t)
	if now := must.Have(one.Vehicle(v.ID))(t); now.Note != "two" || now.Revision != 3 {
		t.Errorf("on disk is %+v", now)
	}
}

// A full disk keeps the old vehicle, and a walk begins all the same.
func TestFullDiskKeepsTheOldVehicle(t *testing.T) {
	o := ownIn(t, t.TempDir())
	v := o.add("Willow", nil)
	o.kept.Full = true
	v.Name = "Heron"
	if again, err := o.KeepVehicle(v); err == nil || !strings.Contains(err.Error(), "No space is left on the disk.") || again.Name != "Heron" || again.Revision != v.Revision {
		t.Errorf("%v; it would keep %+v", err, again)
	}
	o.walk("half-dead", "half-dead-adapter-burnt.yaml")
	if now := must.Have(o.Vehicle(v.ID))(t); now.Name != "Willow" || len(now.Facts) > 0 {
		t.Errorf("on disk is %+v", now)
	}
	o.kept.Full = false
	must.Have(o.KeepVehicle(v))(t)
}

// What is known cannot be put on record: the visit stands, and the facts are asked.
func TestFactsNotOnRecord(t *testing.T) {
	o := ownIn(t, t.TempDir())
	o.add("Willow", map[string]string{"service": "30a"})
	o.visits.FullAfter = 1
	out, err := o.Begin(faulttree.Ref{Tree: "half-dead"})
	if err != nil || !strings.Contains(out.Said, "could not be put on record, so it is asked") || len(o.Visit().Facts()) > 0 {
		t.Errorf("%v, %q, %v", err, out.Said, o.Visit().Facts())
	}
}

// A visit whose vehicle is gone stays readable and can be gone on with; a deleted vehicle
// is not in hand any more.
func TestVehicleIsDeletedUnderAVisit(t *testing.T) {
	o := ownIn(t, t.TempDir())
	v := o.add("Willow", map[string]string{"service": "30a"})
	out := must.Have(o.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	must.Do(t, o.DeleteVehicle(v.ID, false))
	if _, in := o.InHand(); in || o.Visit() == nil || o.Visit().Facts()["service"] != "30a" {
		t.Fatal("the vehicle is in hand still, or its visit is not under way")
	}
	step := o.Visit().Walk().Step()
	must.Have(o.Answer(out.To.ID, faulttree.Answer{Choice: step.Choices[0].ID, Done: step.Kind == faulttree.KindAct}))(t)
	o.Close()
	must.Have(o.Open(out.To.ID))(t)
	if _, err := o.Vehicle(v.ID); err != session.ErrNoVehicle {
		t.Error(err)
	}
}

// With its visits, the one under way among them, a vehicle goes; where one is open in
// another window, that and the vehicle stay.
func TestDeletedWithVisits(t *testing.T) {
	dir := t.TempDir()
	o, other := ownIn(t, dir), ownIn(t, dir)
	v := o.add("Willow", nil)
	must.Have(o.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	open := o.Visit().ID()
	must.Do(t, o.TakeInHand(""))
	out := must.Have(o.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
	must.Have(other.Open(open))(t)
	if err := o.DeleteVehicle(v.ID, true); err == nil || !strings.Contains(err.Error(), "the vehicle stays") {
		t.Error(err)
	}
	must.Have(o.Vehicle(v.ID))(t)
	other.Close()
	must.Have(o.Open(open))(t)
	must.Do(t, o.DeleteVehicle(v.ID, true))
	if all := must.Have(o.visits.List())(t); len(all) != 1 || all[0].ID != out.To.ID {
		t.Errorf("on record is %v", all)
	}
}

// After merging, the visits of both are in one history, in time order; nothing is merged
// with itself.
func TestMergedHistory(t *testing.T) {
	o := ownIn(t, t.TempDir())
	first := o.add("The old trailer", nil)
	o.walk("half-dead", "half-dead-adapter-burnt.yaml")
	second := o.add("Willow", nil)
	o.walk("half-dead", "half-dead-adapter-burnt.yaml")
	if _, err := o.MergeVehicles(second.ID, second.ID); err == nil || !strings.Contains(err.Error(), "merged with itself") {
		t.Error(err)
	}
	both := must.Have(o.MergeVehicles(second.ID, first.ID))(t)
	h := o.History(both)(context.Background())
	if h.Err != nil || len(h.Lines) != 2 || len(h.Visits) != 2 {
		t.Fatalf("%+v", h)
	}
	if v := must.Have(o.Vehicle(first.ID))(t); v.ID != second.ID {
		t.Errorf("by its old id it is %+v", v)
	}
	if all, _, _ := o.Vehicles(); len(all) != 1 {
		t.Errorf("the list has %d vehicles", len(all))
	}
}

// A vehicle with its visits goes to another machine as one file; a second time nothing is
// taken twice, and what is there stays.
func TestHandedOn(t *testing.T) {
	o := ownIn(t, t.TempDir())
	v := o.add("Willow", nil)
	o.walk("half-dead", "half-dead-adapter-burnt.yaml")
	v = must.Have(o.Vehicle(v.ID))(t)
	raw := must.Have(o.ExportVehicle(v))(t)
	there := ownIn(t, t.TempDir())
	take := func(raw []byte) (logbook.Vehicle, string, error) {
		x := there.ImportVehicle(bytes.NewReader(raw))(context.Background())
		return x.Vehicle, x.Said, x.Err
	}
	got, said, err := take(raw)
	if err != nil || got.Name != "Willow" || got.Facts["service"] != "30a" || said != "“Willow” was taken. 1 visit was added." {
		t.Fatal(got, said, err)
	}
	if h := there.History(got)(context.Background()); len(h.Visits) != 1 || !h.Lines[0].Ended {
		t.Errorf("%+v", h)
	}
	got.Name = "Heron"
	must.Have(there.KeepVehicle(got))(t)
	if again, said, err := take(raw); err != nil || again.Name != "Heron" || said != "“Heron” is here already: what its page says stays. 0 visits were added." {
		t.Error(again, said, err)
	}
	for name, bad := range map[string][]byte{"cut": raw[:len(raw)/2], "empty": nil, "picture": []byte("\x89PNG")} {
		if _, _, err := take(bad); err == nil || !strings.HasPrefix(err.Error(), "Nothing was taken. ") {
			t.Errorf("%s: %v", name, err)
		}
	}
}

// At a pedestal the plug is the one that fits the receptacle, which need not be the
// vehicle's: it is asked there, and not noted of the vehicle. A 50 A receptacle read as one of 30 A
// would leave a leg unread.
func TestReceptacleIsNotThePlug(t *testing.T) {
	o := ownIn(t, t.TempDir())
	v := o.add("Willow", map[string]string{"service": "30a"})
	must.Have(o.Begin(faulttree.Ref{Tree: "pedestal"}))(t)
	if facts := o.Visit().Facts(); facts["service"] != "" {
		t.Errorf("the receptacle is taken for %s", facts["service"])
	}
	must.Have(o.BeginTold("pedestal", o.Account()))(t)
	if facts := o.Visit().Facts(); facts["service"] != "" {
		t.Errorf("begun with what is told, the receptacle is taken for %s", facts["service"])
	}
	out := must.Have(o.Begin(faulttree.Ref{Tree: "pedestal-50a"}))(t)
	if facts := o.Visit().Facts(); facts["service"] != "50a" || !strings.Contains(out.Said, "not what is noted of “Willow”") {
		t.Errorf("the receptacle is taken for %s; the window says %q", facts["service"], out.Said)
	}
	v.Facts = nil
	must.Have(o.KeepVehicle(v))(t)
	o.walk("pedestal-50a", "pedestal-50a-open-neutral.yaml")
	if now := must.Have(o.Vehicle(v.ID))(t); !o.Visit().Walk().Ended() || now.Facts["service"] != "" {
		t.Errorf("the receptacle is noted as the plug of the vehicle: %v", now.Facts)
	}
}

// A vehicle that another window has deleted, or whose file is damaged, is told as a visit
// begins, and the visit is of one without a name.
func TestVehicleInHandIsGone(t *testing.T) {
	dir := t.TempDir()
	o, other := ownIn(t, dir), ownIn(t, dir)
	for name, away := range map[string]func(id string) error{
		"deleted": func(id string) error { return other.DeleteVehicle(id, false) },
		"damaged": func(id string) error {
			return os.WriteFile(filepath.Join(dir, "vehicles", id+".vehicle"), []byte("{"), 0o600)
		},
	} {
		v := o.add("Willow", map[string]string{"service": "30a"})
		must.Do(t, away(v.ID))
		out := must.Have(o.Begin(faulttree.Ref{Tree: "half-dead"}))(t)
		if h := o.Visit().Record().Header; h.Vehicle != "" || len(o.Visit().Facts()) > 0 || !strings.Contains(out.Said, "one without a name") {
			t.Errorf("%s: the visit is of %q, the window says %q", name, h.Vehicle, out.Said)
		}
		if _, in := o.InHand(); in || len(o.Account().Facts) > 0 {
			t.Errorf("%s: it is in hand still", name)
		}
	}
}
