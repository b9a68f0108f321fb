package bench_test

import (
	"maps"
	"slices"
	"testing"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// What stands open is what the currents trip with all loads on, and what a
// fault opens; circuit-arithmetic, the rig's breaker trips at 67 A.
func TestOpened(t *testing.T) {
	short := func(leg string) rig.Edit {
		return rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "panel.n"}, Ohms: rig.EditValue{Fixed: 0.1}, Leg: leg}
	}
	for name, c := range map[string]struct {
		edits []rig.Edit
		want  []string
	}{
		"sound":                   {nil, nil},
		"a short":                 {[]rig.Edit{short("")}, []string{"main", "main.l1", "main.l2"}},
		"a short behind a load":   {[]rig.Edit{short("l1")}, []string{"main", "main.l1", "main.l2"}},
		"one pole of the breaker": {[]rig.Edit{{Kind: rig.Open, Parts: []string{"main.l2"}}}, []string{"main.l2"}},
		"both poles":              {[]rig.Edit{{Kind: rig.Open, Parts: []string{"main.l1", "main.l2"}}}, []string{"main", "main.l1", "main.l2"}},
		"a conductor":             {[]rig.Edit{{Kind: rig.Open, Parts: []string{"cord.n"}}}, []string{"cord.n"}},
		"a poor contact, no trip": {[]rig.Edit{{Kind: rig.Resist, Parts: []string{"main.l2"}, Ohms: rig.EditValue{Fixed: 3}}}, nil},
	} {
		b := must.Have(bench.New(small()))(t)
		f := &rig.Fault{ID: "f", Variants: []rig.Variant{{Edits: c.edits}}}
		must.Do(t, b.Set(rig.Setup{Faults: []rig.Applied{{Fault: f}}}))
		open, err := b.Opened(b.AllOn())
		if got := slices.Sorted(maps.Keys(open)); err != nil || !slices.Equal(got, c.want) {
			t.Errorf("%s: %v open, %v; want %v", name, got, err, c.want)
		}
	}
}
