package meter

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
)

// fault is a meter fault in force.
func fault(what rig.Mistake, severity ...float64) []rig.Applied {
	f := &rig.Fault{ID: "meter-" + what.String(), Variants: []rig.Variant{{Edits: []rig.Edit{{Kind: rig.Misuse, Mistake: what}}}}}
	a := rig.Applied{Fault: f}
	if len(severity) > 0 {
		f.Severity = &rig.Param{Unit: rig.Volts}
		a.Severity = severity[0]
	}
	return []rig.Applied{a}
}

func faulty(what rig.Mistake, severity ...float64) *Multimeter {
	m := New(ordinary, nil)
	m.Apply(fault(what, severity...))
	return m
}

var (
	live = behind(120, 0.1, 0)
	dead = behind(0, 0.1, 0)
)

// What the cards of the meter faults say: common practice, no source.
func TestMistakes(t *testing.T) {
	if m := faulty(rig.HoldLeftOn); read(t, m, live, volts).Text != "120.0" || read(t, m, dead, volts).Text != "120.0" {
		t.Error("a meter on hold follows")
	}
	if m := faulty(rig.HoldLeftOn, 0); read(t, m, live, volts).Reading.Low != 0 {
		t.Error("a display held at 0 V does not make live look dead")
	}
	if s := read(t, faulty(rig.RangeTooLow), live, volts); s.Text != "OL" || s.Reading.Quality != faulttree.OverRange {
		t.Errorf("range too low shows %q", s.Text)
	}
	if s := read(t, faulty(rig.RangeTooLow, 60), live, volts); s.Text != "OL" {
		t.Errorf("range of 60 V shows %q", s.Text)
	}
	if s := read(t, faulty(rig.WrongFunction), live, volts); s.Reading.Low != 0 || s.Reading.Quality != faulttree.Steady {
		t.Errorf("direct volts on an alternating supply show %q, %+v", s.Text, s.Reading)
	}
	if s := read(t, faulty(rig.BrokenLead), live, volts); s.Reading.Low != 0 || !s.Reading.Numeric() {
		t.Errorf("a broken lead shows %q", s.Text)
	}
	if s := read(t, faulty(rig.BrokenLead), net{ohms: 0.2}, ohms); s.Text != "OL" {
		t.Errorf("a broken lead in ohms shows %q", s.Text)
	}
	if s := read(t, faulty(rig.GhostReading), behind(120, 1, 300e-12), low); s.Reading.Low < 50*faulttree.One {
		t.Errorf("a meter without low impedance shows %q on a ghost", s.Text)
	}
	s := read(t, faulty(rig.WeakBattery), live, volts)
	if s.Reading.Quality != faulttree.Wandering || s.Reading.High > 115*faulttree.One || s.Reading.Low >= s.Reading.High {
		t.Errorf("a weak battery shows %q, %+v", s.Text, s.Reading)
	}
}

// The ampere jack is a short: a flash and a blown fuse on a supply, a zero on
// what cannot drive it, and a zero for good once the fuse is gone.
func TestAmpereJack(t *testing.T) {
	m := faulty(rig.AmpereJack)
	if s := read(t, m, behind(120, 1, 300e-12), volts); s.Hazard != "" || s.Text != "0.0" || m.FuseBlown {
		t.Errorf("a ghost in the ampere jack: %+v", s)
	}
	s := read(t, m, live, volts)
	if s.Hazard == "" || s.Text != "" || s.Reading.Quality != faulttree.NotPossible || !m.FuseBlown {
		t.Errorf("a supply on the ampere jack: %+v", s)
	}
	if s := read(t, m, live, volts); s.Hazard != "" || s.Reading.Low != 0 || !s.Reading.Numeric() {
		t.Errorf("after the fuse: %+v", s)
	}
	m.Setting.Jack = VoltJack
	if s := read(t, m, live, volts); s.Text != "120.0" {
		t.Errorf("the lead put right shows %q", s.Text)
	}
}

// Ohms on a live circuit is a hazard, never a number.
func TestOhmsOnLive(t *testing.T) {
	m := New(ordinary, nil)
	s := read(t, m, live, ohms)
	if s.Hazard == "" || s.Text != "" || s.Reading.Quality != faulttree.NotPossible {
		t.Errorf("%+v", s)
	}
	m.Setting.Function = Ohms
	if s := read(t, m, live, volts); s.Hazard == "" {
		t.Errorf("the dial on ohms: %+v", s)
	}
}

// A number in another unit is refused as it is where a person types it.
func TestOtherFunction(t *testing.T) {
	m := New(ordinary, nil)
	m.Setting.Function = VoltsAC
	s := read(t, m, live, ohms)
	if s.Text != "120.0" || s.Reading.Quality != faulttree.NotPossible || !strings.Contains(s.Reading.Reason, "Volts typed where ohms are asked") {
		t.Errorf("%+v", s)
	}
	m.Setting = Setting{Hold: true}
	if s := read(t, m, dead, ohms); s.Text != "120.0" {
		t.Errorf("hold lost its display: %+v", s)
	}
}

func TestContinuity(t *testing.T) {
	m := New(ordinary, nil)
	m.Setting.Function = Continuity
	for _, tt := range []struct {
		ohms  float64
		text  string
		beeps bool
	}{{0.2, "0.2", true}, {29, "29.0", true}, {100, "100.0", false}, {5200, "OL", false}} {
		if s := read(t, m, net{ohms: tt.ohms}, ohms); s.Text != tt.text || s.Beeps != tt.beeps {
			t.Errorf("%g Ω: %q, beeps %v", tt.ohms, s.Text, s.Beeps)
		}
	}
}

func TestUndefined(t *testing.T) {
	s := New(ordinary, nil).show(bench.Measured{Reason: "no"}, volts, VoltsAC)
	if s.Text != "" || s.Reading.Quality != faulttree.NotPossible || s.Reading.Reason != "no" {
		t.Errorf("%+v", s)
	}
}

// A meter is proved on a live outlet elsewhere, and a broken one is found out.
func TestProof(t *testing.T) {
	proof := faulttree.Quantity{Proves: faulttree.ProvesVoltsAC, Unit: faulttree.VoltsAC, Range: 600 * faulttree.One}
	if s := read(t, New(ordinary, nil), dead, proof); s.Text != "120.0" {
		t.Errorf("a sound meter shows %q", s.Text)
	}
	for _, what := range []rig.Mistake{rig.WrongFunction, rig.BrokenLead, rig.RangeTooLow} {
		if s := read(t, faulty(what), dead, proof); s.Reading.Quality == faulttree.Steady && s.Reading.Low != 0 {
			t.Errorf("%s: the proof shows %q", what, s.Text)
		}
	}
	if s := read(t, faulty(rig.AmpereJack), dead, proof); s.Hazard == "" {
		t.Errorf("the ampere jack on the known source shows %q", s.Text)
	}
}

// The tips held together show the leads' own resistance, or that there is no
// circuit; nothing of the vehicle matters.
func TestLeads(t *testing.T) {
	leads := faulttree.Quantity{Proves: faulttree.ProvesLeads, Unit: faulttree.Ohms, Range: 600 * faulttree.One}
	if s := read(t, New(ordinary, nil), live, leads); s.Text != "0.2" || !leads.AllowedAfterStop() {
		t.Errorf("good leads show %q", s.Text)
	}
	apart := faulttree.Quantity{Proves: faulttree.ProvesOpenTips, Unit: faulttree.Ohms, Range: 600 * faulttree.One}
	if s := read(t, New(ordinary, nil), live, apart); s.Reading.Quality != faulttree.OverRange {
		t.Errorf("tips apart show %+v", s)
	}
	for _, what := range []rig.Mistake{rig.BrokenLead, rig.AmpereJack} {
		if s := read(t, faulty(what), live, leads); s.Reading.Quality != faulttree.OverRange {
			t.Errorf("%s: the leads show %+v", what, s)
		}
	}
}
