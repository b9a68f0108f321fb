package scene_test

import (
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/scene"
)

// A drawn rig on show has the voltages that the same setup has on a bench of
// its own (both by this program: what is tested is that no number gets lost).
func TestPutShowsADrawnRig(t *testing.T) {
	r := coach(t)
	plain := must.Have(bench.New(r))(t)
	rng := rand.New(rand.NewPCG(1, 2))
	for i, f := range append(catalogue(), nil) {
		setup := rig.Setup{Values: r.Draw(rng)}
		if f != nil {
			a := rig.Applied{Fault: f, Variant: len(f.Variants) - 1}
			if f.Severity != nil {
				a.Severity = (f.Severity.From + f.Severity.To) / 2
			}
			setup.Faults = []rig.Applied{a}
		}
		s := must.Have(scene.New(r, scene.Book{Faults: catalogue()}))(t)
		if f != nil { // the same fault value as in the scene's catalogue
			for _, own := range s.Faults() {
				if own.ID == f.ID {
					setup.Faults[0].Fault = own
				}
			}
		}
		must.Do(t, s.Put(setup))
		if f != nil && (s.Fault() == nil || s.Fault().ID != f.ID) {
			continue // it misleads the meter alone
		}
		v := must.Have(s.Look())(t)
		must.Do(t, plain.Set(setup))
		p := must.Have(plain.Solve(s.State()))(t)
		for node, want := range p.Volts {
			if got := v.Volts[node]; cmplx.Abs(got-want) > 1e-9*(1+cmplx.Abs(want)) {
				t.Errorf("draw %d: %s at %v, want %v", i, node, got, want)
			}
		}
	}
}

// Afterwards the dials still turn, and a sound rig has no fault.
func TestPutLeavesTheDials(t *testing.T) {
	s := show(t)
	s.Choose(s.Faults()[0].ID)
	values := s.Rig().Values()
	for _, p := range s.Rig().Parts {
		if i := p.Params[rig.AttrWatts]; i != rig.None && p.Leg == "l1" {
			values[i] = 777
		}
	}
	must.Do(t, s.Put(rig.Setup{Values: values}))
	if s.Fault() != nil {
		t.Errorf("a sound rig shows %s", s.Fault().ID)
	}
	for _, d := range s.Loads() {
		if d.Name == "l1" && d.Value != 777 {
			t.Errorf("dial %+v, want 777 W", d)
		}
	}
	before := look(t, s)
	s.SetLoad("l1", 0)
	if after := look(t, s); cmplx.Abs(after.Volts["panel.l1"]) <= cmplx.Abs(before.Volts["panel.l1"]) {
		t.Error("turning the load off does not raise its leg")
	}
	if err := s.Put(rig.Setup{Values: values[1:]}); err == nil {
		t.Error("numbers of another rig are taken")
	}
}
