package bench_test

import (
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// A main that lets go without shore power hides the load of 1500 W, 9.6 Ω at
// 120 V, and a leak of 5 kΩ behind it; plugged in it carries the load like any
// other. A vehicle without the variety is not touched by it.
func TestAContactorHidesWhatIsBehindIt(t *testing.T) {
	r := small()
	r.Varieties = []rig.Variety{{Name: "contactor", Share: 0.5, Open: []string{"main"}, Without: []string{"plug"}}}
	if list := r.Check(); list.HasErrors() {
		t.Fatal(list)
	}
	b := must.Have(bench.New(r))(t)
	leak := fault(rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Fixed: 5000}})
	ohms := func(black string) faulttree.Quantity {
		return faulttree.Quantity{ID: "ohm", Unit: faulttree.Ohms, Red: "feed.l1", Black: black, Conditions: []faulttree.Condition{faulttree.Unplugged}}
	}
	for _, has := range []uint64{0, 1} {
		must.Do(t, b.Set(rig.Setup{Faults: []rig.Applied{leak}, Varieties: has}))
		near(t, "L1 under load", read(t, b, volts("panel.l1-n@loaded", "panel.l1", "panel.n", faulttree.Loaded)), 118, 1)
		for black, want := range map[string]float64{"panel.n": 9.6, "body": 5000} {
			m, err := b.Measure(ohms(black), bench.HighImpedance)
			switch {
			case err != nil:
				t.Fatal(err)
			case has == 0:
				near(t, "to "+black, real(m.Value), want, want/500)
			case m.Defined:
				t.Errorf("behind the open contactor the meter sees %v to %s", m.Value, black)
			}
		}
	}
}

func TestABadVarietyIsRefused(t *testing.T) {
	for what, v := range map[string]rig.Variety{
		"a part that is not there":   {Share: 0.5, Open: []string{"mian"}, Without: []string{"plug"}},
		"a switch that is not there": {Share: 0.5, Open: []string{"main"}, Without: []string{"plgu"}},
		"no share":                   {Open: []string{"main"}, Without: []string{"plug"}},
	} {
		r := small()
		r.Varieties = []rig.Variety{v}
		if list := r.Check(); !list.HasErrors() {
			t.Errorf("%s is not refused", what)
		}
	}
}
