package practice_test

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/must"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
)

// trailer is a 120 V supply with an earthed neutral, a cord and a vehicle with
// a heater and filters. The numbers are round ones, no source.
func trailer() *rig.Rig {
	r := &rig.Rig{ID: "trailer", Trees: []string{"shock"}, Switches: []rig.Switch{
		{Name: "pedestal", Title: "the pedestal's breaker"}, {Name: "plug", Title: "the plug in the pedestal", Covers: []string{"pedestal", "plug"}}, {Name: "main", Title: "the main breaker"}},
		Inside: []string{"panel", "main"}}
	param := func(name string, u rig.ParamUnit, value float64) int {
		r.Params = append(r.Params, rig.Param{Name: name, Unit: u, Value: value, From: value, To: value})
		return len(r.Params) - 1
	}
	part := func(name string, k rig.Kind, a, b, on string, numbers map[rig.Attribute]float64) *rig.Part {
		p := rig.NewPart(name, k, a, b)
		if run, wire, ok := strings.Cut(name, "."); ok {
			p.Run, p.Wire = run, wire
		}
		units := map[rig.Attribute]rig.ParamUnit{rig.AttrVolts: rig.Volts, rig.AttrDegrees: rig.Degrees, rig.AttrOhms: rig.Ohms, rig.AttrFarads: rig.Farads, rig.AttrWatts: rig.Watts, rig.AttrAtVolts: rig.Volts, rig.AttrTrip: rig.Amperes}
		for a, x := range numbers {
			p.Params[a] = param(name+"."+a.String(), units[a], x)
		}
		p.Switch = on
		r.Parts = append(r.Parts, p)
		return &r.Parts[len(r.Parts)-1]
	}
	ohms := func(name, a, b, on string, x float64) {
		part(name, rig.Joint, a, b, on, map[rig.Attribute]float64{rig.AttrOhms: x})
	}
	r.Hertz, r.Celsius = param("hertz", rig.Hertz, 60), param("celsius", rig.Celsius, 20)
	part("source", rig.Source, "site.l1", "site.n", "", map[rig.Attribute]float64{rig.AttrVolts: 120, rig.AttrDegrees: 0, rig.AttrOhms: 0.02})
	ohms("main-bond", "site.n", "site.g", "", 0)
	ohms("utility-earth", "site.n", "0", "", 5)
	part("breaker", rig.Breaker, "site.l1", "feed-in.l1", "pedestal", map[rig.Attribute]float64{rig.AttrOhms: 0.002, rig.AttrTrip: 40}).Title = "the 30 A breaker"
	ohms("tap.l1", "feed-in.l1", "pedestal.l1", "", 0.05)
	ohms("tap.n", "site.n", "pedestal.n", "", 0.05)
	ohms("tap.g", "site.g", "pedestal.g", "", 0.05)
	for _, wire := range []string{"l1", "n", "g"} {
		ohms("mating."+wire, "pedestal."+wire, "plug."+wire, "plug", 0.001)
		ohms("cord."+wire, "plug."+wire, "inside."+wire, "", 0.02)
	}
	ohms("main.l1", "inside.l1", "panel.l1", "main", 0.002)
	ohms("main.n", "inside.n", "panel.n", "", 0.002)
	ohms("main.g", "inside.g", "panel.g", "", 0.002)
	ohms("body-bond", "panel.g", "body", "", 0.01)
	part("heater", rig.Load, "panel.l1", "panel.n", "", map[rig.Attribute]float64{rig.AttrWatts: 1200, rig.AttrAtVolts: 120}).Leg = "l1"
	for _, wire := range []string{"l1", "n"} {
		part("filter."+wire, rig.Capacitance, "panel."+wire, "body", "", map[rig.Attribute]float64{rig.AttrFarads: 20e-9})
	}
	part("tyres", rig.Resistance, "body", "0", "", map[rig.Attribute]float64{rig.AttrOhms: 2e6})
	part("spike", rig.Resistance, "earth", "0", "", map[rig.Attribute]float64{rig.AttrOhms: 200})
	return r
}

func fault(id string, e ...rig.Edit) *rig.Fault {
	return &rig.Fault{ID: id, Title: id, Hazard: faulttree.Danger, Weight: 1, Variants: []rig.Variant{{Place: faulttree.Supply, Edits: e}}}
}

// catalogue is a few faults that the trailer can have.
func catalogue() []*rig.Fault {
	loose := fault("high-resistance-neutral", rig.Edit{Kind: rig.Resist, Parts: []string{"tap.n"}, Ohms: rig.EditValue{Severity: true, Factor: 1}})
	loose.Severity = &rig.Param{Name: "severity", Unit: rig.Ohms, Value: 3, From: 0.3, To: 100, Log: true}
	return []*rig.Fault{
		fault("open-ground", rig.Edit{Kind: rig.Open, Parts: []string{"tap.g"}}),
		fault("hot-ground-swapped", rig.Edit{Kind: rig.Swap, Parts: []string{"tap.l1", "tap.g"}}),
		fault("supply-dead", rig.Edit{Kind: rig.Open, Parts: []string{"tap.l1"}}),
		loose,
		fault("not-here", rig.Edit{Kind: rig.Open, Parts: []string{"generator-bond"}}),
		fault("meter-hold", rig.Edit{Kind: rig.Misuse, Mistake: rig.HoldLeftOn}),
		fault("meter-weak", rig.Edit{Kind: rig.Misuse, Mistake: rig.BrokenLead}),
		fault("meter-amp-jack", rig.Edit{Kind: rig.Misuse, Mistake: rig.AmpereJack}),
	}
}

// tries is what may be tried, and what cannot be before the trailer.
var tries = []faulttree.Intervention{
	{ID: "another-cord", Title: "Another cord", Renews: []string{"cord"}},
	{ID: "another-receptacle", Title: "Another receptacle", Renews: []string{"tap", "pedestal", "mating"}},
	{ID: "appliances", Title: "Appliances out", Renews: []string{"outlet"}, Unloaded: true},
	{ID: "generator", Title: "On the generator", Facts: map[string]string{"source": "generator"}},
	{ID: "another-battery", Title: "Another battery", Renews: []string{"battery"}},
}

// with is the trailer with some faults of the catalogue.
func with(t *testing.T, ids ...string) practice.Case {
	t.Helper()
	c := practice.NewCase("case", trailer())
	c.May = []string{"pedestal", "plug", "main"}
	c.MayTry(tries)
	if list := c.Rig.Check(); list.HasErrors() {
		t.Fatal(list)
	}
	for _, id := range ids {
		for _, f := range catalogue() {
			if f.ID == id {
				c.Faults = append(c.Faults, rig.Applied{Fault: f})
			}
		}
	}
	return c
}

// learner does acts on a case and keeps the attempt.
type learner struct {
	t *testing.T
	v *practice.Learner
	a practice.Attempt
}

func stand(t *testing.T, c practice.Case) *learner {
	t.Helper()
	v := must.Have(c.Begin(faulttree.DefaultMeter()))(t)
	return &learner{t, v, practice.Attempt{Case: c.ID, Meter: faulttree.DefaultMeter(), Rules: practice.Rules}}
}

func (l *learner) do(act practice.Act) practice.Act {
	l.t.Helper()
	act.Asked = true
	done, err := l.v.Do(act)
	if err != nil {
		l.t.Fatal(err)
	}
	l.a = l.a.With(done...)
	return done[len(done)-1]
}

func (l *learner) read(red, black string) practice.Act {
	l.t.Helper()
	return l.do(practice.Act{Kind: practice.Read, Red: red, Black: black})
}

func (l *learner) throw(name string, on bool) {
	l.t.Helper()
	l.do(practice.Act{Kind: practice.Throw, Name: name, On: on})
}

func (l *learner) dial(change func(*meter.Setting)) {
	s := l.v.Setting()
	change(&s)
	l.v.Set(s)
}
