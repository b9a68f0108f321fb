package session_test

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/must"
	"faultwright/gui/session"
)

// A vehicle brings the meter that it is read with, where the reader has one of that
// name; another leaves the one in use.
func TestAVehicleBringsItsMeter(t *testing.T) {
	o := ownIn(t, t.TempDir())
	fine := session.OwnMeter{Meter: faulttree.DefaultMeter()}
	fine.Name, fine.FullScale = "fine one", 20000
	must.Do(t, o.Set(func(s *session.Settings) {
		must.Do(t, s.Put(-1, fine))
		s.Use(faulttree.DefaultMeter().Name)
	}))
	with := must.Have(o.KeepVehicle(logbook.Vehicle{Name: "Willow", Meter: "fine one"}))(t)
	lent := must.Have(o.KeepVehicle(logbook.Vehicle{Name: "Heron", Meter: "a meter that was lent"}))(t)
	for _, id := range []string{with.ID, lent.ID} {
		must.Do(t, o.TakeInHand(id))
		if m := o.Settings().Meter; m != fine.Meter {
			t.Errorf("with vehicle %s in hand the meter is %q", id, m.Name)
		}
	}
}

// A walk that proves the meter notes the day with it, once, and says so. A meter that shows
// too little, practice, and another meter of the same name are not noted.
func TestAProofIsNotedWithTheMeter(t *testing.T) {
	o := ownIn(t, t.TempDir())
	source := faulttree.Ref{Tree: "body-voltage", Step: "proof.source"}
	prove := func(volts string) string {
		q := o.Book().Forest.Step(source).Measure[0].Quantity
		out := must.Have(o.Answer(o.Visit().ID(), faulttree.Answer{Readings: []faulttree.Reading{must.Have(faulttree.ParseReading(volts, q))(t)}}))(t)
		return out.Said
	}
	noted := func(want string) {
		t.Helper()
		if got := o.Settings().Meter.Proved; got != want {
			t.Errorf("noted is %q, want %q", got, want)
		}
	}
	must.Have(o.Begin(source))(t)
	if said := prove("4.1"); said != "" {
		t.Errorf("it says %q", said)
	}
	noted("")
	must.Have(o.BeginBeside("body-voltage", "2026-05-03-k7fqm"))(t)
	for o.Visit().Walk().Step().ID != "proof.source" {
		s, a := o.Visit().Walk().Step(), faulttree.Answer{Done: true}
		if s.Kind == faulttree.KindObserve {
			a = faulttree.Answer{Choice: s.Choices[len(s.Choices)-1].ID}
		}
		must.Have(o.Answer(o.Visit().ID(), a))(t)
	}
	if said := prove("120.1"); strings.Contains(said, "proved") {
		t.Errorf("of practice it says %q", said)
	}
	noted("")
	must.Have(o.Begin(source))(t)
	if said := prove("120.1"); said != "The meter was proved, which is noted of “ordinary 6000-count meter” with the day, 3 May 2026." {
		t.Errorf("it says %q", said)
	}
	noted("2026-05-03")
	reasoning := o.Reasoning()
	must.Have(o.Begin(source))(t)
	if said := prove("120.1"); said != "" || o.Reasoning() != reasoning {
		t.Errorf("again it says %q, or reasons anew", said)
	}
	must.Have(o.Begin(source))(t)
	must.Do(t, o.Set(func(s *session.Settings) { s.Meter.Proved, s.Meter.FullScale = "", 20000 })) // edited while the visit stands
	prove("120.1")
	noted("")
}
