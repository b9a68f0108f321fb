package session_test

import (
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
