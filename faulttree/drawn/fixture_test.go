package drawn_test

import (
	"context"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// made is a rig under construction.
type made struct{ *rig.Rig }

func (m made) param(name string, u rig.ParamUnit, from, to float64) int {
	m.Params = append(m.Params, rig.Param{Name: name, Unit: u, Value: from, From: from, To: to, Log: from > 0 && from != to})
	return len(m.Params) - 1
}

func (m made) part(name string, k rig.Kind, a, b, on string, numbers map[rig.Attribute]int) *rig.Part {
	p := rig.NewPart(name, k, a, b)
	p.Run, p.Wire, _ = strings.Cut(name, ".")
	p.Switch = on
	for attribute, at := range numbers {
		p.Params[attribute] = at
	}
	m.Parts = append(m.Parts, p)
	return &m.Parts[len(m.Parts)-1]
}

func (m made) ohms(name string, k rig.Kind, a, b, on string, from, to float64) {
	m.part(name, k, a, b, on, map[rig.Attribute]int{rig.AttrOhms: m.param(name+".ohms", rig.Ohms, from, to)})
}

// trailer is 120 V with an earthed neutral, which come by a run of this name, a
// cord and a vehicle on dry tyres. Round numbers, no source.
func trailer(id, source, run string) *rig.Rig {
	facts := map[string]string{"source": source}
	m := made{&rig.Rig{ID: id, Trees: []string{"tingle"}, Facts: facts, Switches: []rig.Switch{{Name: "plug"}, {Name: "main"}},
		States: []rig.StateRule{{When: []faulttree.Condition{faulttree.Unplugged}, Off: []string{"plug"}}, {Red: []string{"pedestal"}, Off: []string{"plug"}}}}}
	m.Hertz, m.Celsius = m.param("hertz", rig.Hertz, 60, 60), m.param("celsius", rig.Celsius, 20, 20)
	m.part("source", rig.Source, "site.l1", "site.n", "", map[rig.Attribute]int{
		rig.AttrVolts: m.param("source.volts", rig.Volts, 120, 120), rig.AttrDegrees: m.param("source.degrees", rig.Degrees, 0, 0), rig.AttrOhms: m.param("source.ohms", rig.Ohms, 0.02, 0.02)})
	m.ohms("bond", rig.Joint, "site.n", "site.g", "", 0, 0)
	m.ohms("rod", rig.Resistance, "site.n", "0", "", 5, 5)
	for _, wire := range []string{"l1", "n", "g"} {
		m.ohms(run+"."+wire, rig.Joint, "site."+wire, "pedestal."+wire, "", 0.05, 0.05)
		m.ohms("mating."+wire, rig.Joint, "pedestal."+wire, "plug."+wire, "plug", 0.001, 0.001)
		m.ohms("cord."+wire, rig.Joint, "plug."+wire, "inlet."+wire, "", 0.01, 0.04)
	}
	m.ohms("main.l1", rig.Joint, "inlet.l1", "panel.l1", "main", 0.01, 0.01)
	m.ohms("entry.n", rig.Joint, "inlet.n", "panel.n", "", 0.01, 0.01)
	m.ohms("entry.g", rig.Joint, "inlet.g", "panel.g", "", 0.01, 0.01)
	m.ohms("body-bond", rig.Joint, "panel.g", "body", "", 0.01, 0.01)
	heater := m.part("heater", rig.Load, "panel.l1", "panel.n", "", map[rig.Attribute]int{rig.AttrWatts: m.param("heater.watts", rig.Watts, 500, 1500), rig.AttrAtVolts: m.param("heater.at", rig.Volts, 120, 120)})
	heater.Leg = "l1"
	m.ohms("tyres", rig.Resistance, "body", "0", "", tyres, tyres)
	m.ohms("spike", rig.Resistance, "earth", "0", "", 200, 200)
	return m.Rig
}

const tyres = 1e6 // ohms

func edits(id string, hazard faulttree.Signal, weight float64, variants ...rig.Variant) *rig.Fault {
	return &rig.Fault{ID: id, Hazard: hazard, Weight: weight, Variants: variants}
}

func way(place faulttree.Place, with []string, e ...rig.Edit) rig.Variant {
	return rig.Variant{Place: place, Text: "somewhere", With: with, Edits: e}
}

func open(part string) rig.Edit { return rig.Edit{Kind: rig.Open, Parts: []string{part}} }

// faults are those of the trailer: a lost ground in two places, one of which can
// bring a leak along, a leak, a dead supply, and a meter that fails.
func faults() []*rig.Fault {
	leaks := rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: rig.EditValue{Severity: true, Factor: 1}}
	leak := edits("leak", faulttree.Danger, 5, way(faulttree.Vehicle, nil, leaks))
	leak.Severity = &rig.Param{Name: "severity", Unit: rig.Ohms, Value: 5e3, From: 1e3, To: 1e5, Log: true}
	fixed := leaks
	fixed.Ohms = rig.EditValue{Fixed: 2e3}
	return []*rig.Fault{
		edits("open-ground", faulttree.Danger, 3, way(faulttree.Cord, nil, open("cord.g")), way(faulttree.Supply, nil, open("feeder.g")),
			way(faulttree.Cord, []string{"leak"}, open("cord.g"), fixed)),
		leak,
		edits("supply-dead", faulttree.Warning, 8, way(faulttree.Supply, nil, open("feeder.l1"))),
		edits("meter-weak", faulttree.Danger, 4, way(faulttree.MeterOwn, nil, rig.Edit{Kind: rig.Misuse, Mistake: rig.WeakBattery})),
	}
}

func quantity(id string, unit faulttree.Unit, red, black string, c ...faulttree.Condition) faulttree.Quantity {
	return faulttree.Quantity{ID: id, Unit: unit, Red: red, Black: black, Conditions: c}
}

var (
	hot    = quantity("pedestal.l1-n", faulttree.VoltsAC, "pedestal.l1", "pedestal.n")
	body   = quantity("body-earth", faulttree.VoltsAC, "body", "earth")
	ground = quantity("ohm:plug.g-body@unplugged", faulttree.Ohms, "plug.g", "body", faulttree.Unplugged)
	live   = quantity("ohm:panel.l1-n", faulttree.Ohms, "panel.l1", "panel.n")
	far    = quantity("battery", faulttree.VoltsDC, "battery.pos", "battery.neg")
)

// handbook has the trailer, and the same on a generator of its own. A tingle is
// 5 V and more on the body.
func handbook() drawn.Handbook {
	tingles := faulttree.Choice{When: []faulttree.When{{Quantity: body, Span: faulttree.Span{From: 5 * faulttree.One, Below: faulttree.Highest}}}}
	dead := faulttree.Choice{When: []faulttree.When{{Quantity: hot, Span: faulttree.Span{From: 0, Below: 50 * faulttree.One}}}}
	f := &faulttree.Forest{Quantities: faulttree.Quantities{}, Trees: map[string]*faulttree.Tree{"tingle": {ID: "tingle", Complaint: []faulttree.Choice{tingles}}},
		Observations: []faulttree.Observation{
			{ID: "lamps", Choices: []faulttree.Sight{{ID: "dark", Any: []faulttree.Choice{dead}, Often: 1}, {ID: "burn", Often: 3}}},
			{ID: "smell", Choices: []faulttree.Sight{{ID: "burnt", Often: 1, Favours: map[string]float64{"leak": 4}}, {ID: "none", Often: 4}}},
		},
		Interventions: []faulttree.Intervention{
			{ID: "other-cord", Renews: []string{"cord"}}, {ID: "main-off", Off: []string{"main"}},
			{ID: "generator", Facts: map[string]string{"source": "generator"}}, {ID: "elsewhere", Renews: []string{"adapter"}},
		}}
	for _, q := range []faulttree.Quantity{hot, body, ground, live, far} {
		f.Quantities[q.ID] = q
	}
	return drawn.Handbook{Forest: f, Rigs: []*rig.Rig{trailer("trailer", "shore", "feeder"), trailer("on-generator", "generator", "output")}, Faults: faults()}
}

func population(t testing.TB, o drawn.Options) *drawn.Population {
	t.Helper()
	return must.Have(drawn.New(context.Background(), handbook(), o))(t)
}

func column(t testing.TB, p interface {
	Column(context.Context, faulttree.Quantity) ([]float32, error)
}, q faulttree.Quantity) []float32 {
	t.Helper()
	return must.Have(p.Column(context.Background(), q))(t)
}
