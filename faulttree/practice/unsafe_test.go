package practice_test

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
)

// The rules are those of the handbook's cautions; common practice.
func TestUnsafe(t *testing.T) {
	load := practice.Act{Kind: practice.Load, Name: "l1", On: true}
	proveAndRead := func(l *learner) {
		l.do(practice.Act{Kind: practice.Prove})
		l.read("body", "earth")
	}
	for _, tt := range []struct {
		name  string
		fault string
		acts  func(l *learner)
		want  []string
	}{
		{"nothing was done", "", func(*learner) {}, nil},
		{"the body was read first", "", func(l *learner) { proveAndRead(l); l.read("panel.l1", "panel.n") }, nil},
		{"through the door unread", "", func(l *learner) { l.read("panel.l1", "panel.n") }, []string{practice.BodyUnknown}},
		{"read by a meter that had shown nothing", "", func(l *learner) { l.read("body", "earth"); l.do(load) }, []string{practice.BodyUnknown}},
		{"on low impedance a body reading clears nothing", "open-ground", func(l *learner) {
			l.do(practice.Act{Kind: practice.Prove})
			l.dial(func(s *meter.Setting) { s.Function = meter.LowZ })
			l.read("body", "earth")
			l.do(load)
		}, []string{practice.BodyUnknown}},
		{"touched though it read live", "open-ground", func(l *learner) { proveAndRead(l); l.do(load) }, []string{practice.BodyLive}},
		{"more was switched on since", "", func(l *learner) {
			proveAndRead(l)
			l.do(load) // goes in
			l.throw("pedestal", false)
		}, []string{practice.BodyUnknown}},
		{"the plug is out", "open-ground", func(l *learner) {
			l.throw("pedestal", false)
			l.throw("plug", false)
			l.do(load)
		}, nil},
		{"pulled with the breaker on", "", func(l *learner) { l.throw("plug", false) }, []string{practice.PluggedUnder}},
		{"ohms on a live panel", "", func(l *learner) {
			proveAndRead(l)
			l.dial(func(s *meter.Setting) { s.Function = meter.Ohms })
			l.read("panel.l1", "panel.n")
		}, []string{practice.OhmsOnLive}},
		{"ohms on the pulled plug", "", func(l *learner) {
			l.throw("pedestal", false)
			l.throw("plug", false)
			l.dial(func(s *meter.Setting) { s.Function = meter.Continuity })
			l.read("plug.g", "body")
		}, nil},
		{"lead in the ampere jack", "", func(l *learner) {
			proveAndRead(l)
			l.dial(func(s *meter.Setting) { s.Jack = meter.AmpereJack })
			l.read("panel.l1", "panel.n")
		}, []string{practice.AmpereJack}},
	} {
		t.Run(tt.name, func(t *testing.T) {
			c := with(t)
			if tt.fault != "" {
				c = with(t, tt.fault)
			}
			l := stand(t, c)
			tt.acts(l)
			var got []string
			for _, d := range c.Unsafe(l.a, limit, faulttree.DefaultMeter()) {
				got = append(got, d.Rule)
				if d.Act < 0 || d.Act >= len(l.a.Acts) || d.Text == "" || d.Card == "" {
					t.Errorf("%+v", d)
				}
			}
			if len(got) != len(tt.want) || len(got) > 0 && got[0] != tt.want[0] {
				t.Errorf("got %v, want %v; acts %+v", got, tt.want, l.a.Acts)
			}
		})
	}
}

// A body that reads a tenth of a volt below the limit may stand above it: an
// ordinary meter is off by as much as 1.2 % + 5 counts.
func TestTouchedWithinTheMetersError(t *testing.T) {
	c := with(t, "open-ground")
	l := stand(t, c)
	l.do(practice.Act{Kind: practice.Prove})
	l.read("body", "earth")
	l.do(practice.Act{Kind: practice.Load, Name: "l1", On: true})
	readings := l.a.Readings()
	volts := readings[len(readings)-1].Reading().High
	for _, x := range []struct {
		limit faulttree.Amount
		rules int
	}{{volts, 1}, {volts + faulttree.One/10, 1}, {2 * volts, 0}} {
		if got := c.Unsafe(l.a, x.limit, faulttree.DefaultMeter()); len(got) != x.rules || x.rules == 1 && got[0].Rule != practice.BodyLive {
			t.Errorf("a body that read %v V, touched under a limit of %v V: %+v", volts, x.limit, got)
		}
	}
}
