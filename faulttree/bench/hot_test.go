package bench_test

import (
	"maps"
	"slices"
	"testing"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// 12.5 A and 4.2 A come home over the neutral as 8.3 A: 1 Ω in it makes 69 W,
// 0.05 Ω 3.5 W (I²R). Copper of 14 AWG has 8.3 mΩ in each metre at 20 °C
// (2.525 Ω in 1000 ft, awg-copper-table), which makes 1.3 W of 12.5 A, more than is said to be hot here.
func TestHot(t *testing.T) {
	for name, c := range map[string]struct {
		metre float64
		edits []rig.Edit
		want  []string
	}{
		"sound":                         {3, nil, nil},
		"a bad contact":                 {3, []rig.Edit{{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Fixed: 1}}}, []string{"cord.n"}},
		"a contact a little worse":      {3, []rig.Edit{{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Fixed: 0.05}}}, nil},
		"a bad contact without current": {3, []rig.Edit{{Kind: rig.Resist, Parts: []string{"cord.g"}, Ohms: rig.EditValue{Fixed: 1}}}, nil},
		"a thin wire":                   {1, nil, []string{"thin"}},
	} {
		r := small()
		r.Heat = rig.Heat{Contact: 10, Metre: c.metre}
		m := made{r}
		gauge, length := m.number("thin.gauge", rig.Gauge, 14), m.number("thin.length", rig.Metres, 2)
		for i := range r.Parts {
			if p := &r.Parts[i]; p.Name == "cord.l1" {
				p.Name, p.Run = "thin.l1", "thin"
				p.Params[rig.AttrOhms], p.Params[rig.AttrGauge], p.Params[rig.AttrLength] = rig.None, gauge, length
			}
		}
		b := must.Have(bench.New(r))(t)
		must.Do(t, b.Set(rig.Setup{Faults: []rig.Applied{fault(c.edits...)}}))
		hot, err := b.Hot(b.AllOn())
		if got := slices.Sorted(maps.Keys(hot)); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: hot is %v, %v; want %v", name, got, err, c.want)
		}
	}
}
