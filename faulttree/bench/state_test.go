package bench_test

import (
	"maps"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// Rules that fit are in force together, and of two that speak of one switch the
// later one counts; loads are on where the quantity or a rule asks for them.
func TestStateFor(t *testing.T) {
	b := with(t)
	b.Rig().States = []rig.StateRule{
		{When: []faulttree.Condition{faulttree.Unplugged}, Off: []string{"plug", "engine"}},
		{When: []faulttree.Condition{faulttree.Unplugged}, Of: []string{"Ω"}, Loads: true},
		{Red: []string{"tow"}, Black: []string{"body", "battery"}, On: []string{"engine"}},
	}
	for _, c := range []struct {
		q     faulttree.Quantity
		off   map[string]bool
		loads int
	}{
		{faulttree.Quantity{Unit: faulttree.VoltsAC, Red: "panel.l1", Black: "panel.n"}, map[string]bool{}, 0},
		{faulttree.Quantity{Unit: faulttree.VoltsAC, Red: "panel.l1", Black: "panel.n", Conditions: []faulttree.Condition{faulttree.Loaded}}, map[string]bool{}, 1},
		{faulttree.Quantity{Unit: faulttree.VoltsAC, Red: "plug.l1", Black: "plug.n", Conditions: []faulttree.Condition{faulttree.Unplugged}}, map[string]bool{"plug": true, "engine": true}, 0},
		{faulttree.Quantity{Unit: faulttree.Ohms, Red: "tow.gnd", Black: "body", Conditions: []faulttree.Condition{faulttree.Unplugged}}, map[string]bool{"plug": true, "engine": false}, 1},
		{faulttree.Quantity{Unit: faulttree.VoltsDC, Red: "tow.aux", Black: "tow.gnd"}, map[string]bool{}, 0},
	} {
		st := b.StateFor(c.q, []string{"l1"})
		if !maps.Equal(st.Off, c.off) || len(st.Loads) != c.loads {
			t.Errorf("%s to %s in %s: %v off, loads %v; want %v, %d", c.q.Red, c.q.Black, c.q.Unit, st.Off, st.Loads, c.off, c.loads)
		}
	}
}
