package trial_test

import (
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/trial"
)

// made is a rig under construction.
type made struct{ *rig.Rig }

func (m made) param(name string, u rig.ParamUnit, value, from, to float64) int {
	m.Params = append(m.Params, rig.Param{Name: name, Unit: u, Value: value, From: from, To: to, Log: from > 0 && from != to})
	return len(m.Params) - 1
}

func (m made) part(name string, k rig.Kind, a, b string, numbers map[rig.Attribute]int, change ...func(*rig.Part)) {
	p := rig.NewPart(name, k, a, b)
	if run, wire, ok := strings.Cut(name, "."); ok {
		p.Run, p.Wire = run, wire
	}
	for attribute, at := range numbers {
		p.Params[attribute] = at
	}
	for _, f := range change {
		f(&p)
	}
	m.Parts = append(m.Parts, p)
}

func (m made) ohms(name string, k rig.Kind, a, b string, value, from, to float64, change ...func(*rig.Part)) {
	m.part(name, k, a, b, map[rig.Attribute]int{rig.AttrOhms: m.param(name+".ohms", rig.Ohms, value, from, to)}, change...)
}

// trailer is a 120 V supply with an earthed neutral, a cord and a vehicle with
// a heater. The numbers are round ones, no source.
func trailer() *rig.Rig {
	m := made{&rig.Rig{ID: "trailer", Trees: []string{"pedestal", "tingle"}, Switches: []rig.Switch{{Name: "plug"}, {Name: "inlet"}, {Name: "main"}},
		States: []rig.StateRule{{When: []faulttree.Condition{faulttree.Unplugged}, Off: []string{"plug"}}, {Red: []string{"pedestal"}, Off: []string{"plug"}}}}}
	m.Hertz, m.Celsius = m.param("hertz", rig.Hertz, 60, 60, 60), m.param("celsius", rig.Celsius, 20, 20, 20)
	on := func(name string) func(*rig.Part) { return func(p *rig.Part) { p.Switch = name } }
	m.part("source", rig.Source, "site.l1", "site.n", map[rig.Attribute]int{
		rig.AttrVolts: m.param("source.volts", rig.Volts, 120, 117, 123), rig.AttrDegrees: m.param("source.degrees", rig.Degrees, 0, 0, 0), rig.AttrOhms: m.param("source.ohms", rig.Ohms, 0.02, 0.02, 0.02)})
	m.ohms("main-bond", rig.Joint, "site.n", "site.g", 0, 0, 0)
	m.ohms("utility-earth", rig.Resistance, "site.n", "0", 5, 1, 10)
	for _, wire := range []string{"l1", "n", "g"} {
		m.ohms("feeder."+wire, rig.Joint, "site."+wire, "pedestal."+wire, 0.05, 0.02, 0.1)
		m.ohms("mating."+wire, rig.Joint, "pedestal."+wire, "plug."+wire, 0.001, 0.001, 0.001, on("plug"))
		m.ohms("cord."+wire, rig.Joint, "plug."+wire, "cord."+wire, 0.02, 0.01, 0.04)
		m.ohms("entry."+wire, rig.Joint, "cord."+wire, "panel."+wire, 0.001, 0.001, 0.001, on("inlet"))
	}
	m.ohms("body-bond", rig.Joint, "panel.g", "body", 0.01, 0.005, 0.02)
	m.part("heater", rig.Load, "panel.l1", "panel.n", map[rig.Attribute]int{rig.AttrWatts: m.param("heater.watts", rig.Watts, 1500, 500, 1500), rig.AttrAtVolts: m.param("heater.at", rig.Volts, 120, 120, 120)},
		func(p *rig.Part) { p.Leg = "l1" })
	m.ohms("insulation", rig.Resistance, "panel.l1", "body", 50e6, 20e6, 200e6)
	m.ohms("tyres", rig.Resistance, "body", "0", 200e3, 20e3, 2e6)
	m.ohms("spike", rig.Resistance, "earth", "0", 200, 100, 400)
	return m.Rig
}

func edits(id string, hazard faulttree.Signal, place faulttree.Place, e ...rig.Edit) *rig.Fault {
	return &rig.Fault{ID: id, Hazard: hazard, Weight: 1, Variants: []rig.Variant{{Place: place, Text: "somewhere", Edits: e}}}
}

// faults are a few that the trailer can have.
func faults() []*rig.Fault {
	severity := rig.EditValue{Severity: true, Factor: 1}
	leak := edits("leakage-to-body", faulttree.Danger, faulttree.Vehicle,
		rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}, Ohms: severity}, rig.Edit{Kind: rig.Open, Parts: []string{"cord.g"}})
	leak.Severity = &rig.Param{Name: "severity", Unit: rig.Ohms, Value: 5e3, From: 1e3, To: 2e4, Log: true}
	return []*rig.Fault{
		leak,
		edits("hot-ground-swapped", faulttree.Danger, faulttree.Supply, rig.Edit{Kind: rig.Swap, Parts: []string{"feeder.l1", "feeder.g"}}),
		edits("supply-dead", faulttree.Warning, faulttree.Supply, rig.Edit{Kind: rig.Open, Parts: []string{"feeder.l1"}}),
		edits("open-ground", faulttree.Danger, faulttree.Supply, rig.Edit{Kind: rig.Open, Parts: []string{"feeder.g"}}),
		edits("meter-weak", faulttree.Danger, faulttree.MeterOwn, rig.Edit{Kind: rig.Misuse, Mistake: rig.BrokenLead}),
	}
}

func quantity(id string, unit faulttree.Unit, red, black string, c ...faulttree.Condition) faulttree.Quantity {
	return faulttree.Quantity{ID: id, Unit: unit, Red: red, Black: black, Conditions: c, Range: 600 * faulttree.One, Most: 1000 * faulttree.One}
}

// step asks one quantity: below the limit it goes to low, else to high.
func step(tree, id string, q faulttree.Quantity, limit float64, low, high string) *faulttree.Step {
	to := func(step string) faulttree.Exit {
		return faulttree.Exit{To: faulttree.Ref{Tree: tree, Step: step}, Text: step}
	}
	at := faulttree.Amount(limit * float64(faulttree.One))
	return &faulttree.Step{Tree: tree, ID: id, Title: id, Kind: faulttree.KindMeasure, Measure: []faulttree.Variable{{Name: "v", Quantity: q}},
		Branches: []faulttree.Branch{
			{Bounds: []faulttree.Bound{{Span: faulttree.Span{From: 0, Below: at}}}, Exit: to(low)},
			{Bounds: []faulttree.Bound{{Span: faulttree.Span{From: at, Below: faulttree.Highest}}}, Exit: to(high)},
		},
		OverRange: to(high), NotPossible: to("not-judged")}
}

func end(tree, id string, f faulttree.Finding) *faulttree.Step {
	return &faulttree.Step{Tree: tree, ID: id, Title: id, Kind: faulttree.KindFinding, Finding: f}
}

func exclude(ids ...string) (list []faulttree.NotExcluded) {
	for _, id := range ids {
		list = append(list, faulttree.NotExcluded{Fault: id, Test: "another one"})
	}
	return list
}

var touch = faulttree.Touch{Point: "body", Soil: "tyres", From: 30 * faulttree.One}

// forest is two trees. pedestal asks L1 to neutral and L1 to ground; careless
// makes it ask the first alone and clear the supply all the same; the second is
// asked only where the first cannot be taken. tingle never clears anything.
func forest(careless bool, declared ...string) *faulttree.Forest {
	hotNeutral := quantity("pedestal.l1-n", faulttree.VoltsAC, "pedestal.l1", "pedestal.n")
	hotGround := quantity("pedestal.l1-g", faulttree.VoltsAC, "pedestal.l1", "pedestal.g")
	proof := quantity("meter.known-source", faulttree.VoltsAC, "meter.known-source", "")
	proof.Proves = faulttree.ProvesVoltsAC
	body := quantity("body-earth@loaded", faulttree.VoltsAC, "body", "earth", faulttree.Loaded)
	next := "ground"
	if careless {
		next = "clear"
	}
	pedestal := &faulttree.Tree{ID: "pedestal", Start: "proof", Scope: []faulttree.Place{faulttree.Supply}, Steps: []*faulttree.Step{
		step("pedestal", "proof", proof, 100, "not-judged", "hot"),
		step("pedestal", "hot", hotNeutral, 100, "dead", next),
		step("pedestal", "ground", hotGround, 100, "no-ground", "clear"),
		end("pedestal", "dead", faulttree.Finding{Faults: []string{"supply-dead", "hot-ground-swapped"}, Signal: faulttree.Warning}),
		end("pedestal", "no-ground", faulttree.Finding{Faults: []string{"open-ground"}, Signal: faulttree.Danger}),
		end("pedestal", "not-judged", faulttree.Finding{Signal: faulttree.Warning}),
		end("pedestal", "clear", faulttree.Finding{Clears: []faulttree.Place{faulttree.Supply}, Signal: faulttree.Notice, CannotExclude: exclude(declared...)}),
	}}
	tingle := &faulttree.Tree{ID: "tingle", Start: "body", Scope: []faulttree.Place{faulttree.Supply, faulttree.Vehicle}, Steps: []*faulttree.Step{
		step("tingle", "body", body, 5, "nothing", "live"),
		end("tingle", "nothing", faulttree.Finding{Signal: faulttree.Notice, CannotExclude: exclude("open-ground", "supply-dead", "rod-only-ground")}),
		end("tingle", "live", faulttree.Finding{Faults: []string{"leakage-to-body", "hot-ground-swapped"}, Signal: faulttree.Danger}),
		end("tingle", "not-judged", faulttree.Finding{Faults: []string{"meter-weak"}, Signal: faulttree.Warning}),
	}}
	f := &faulttree.Forest{Quantities: faulttree.Quantities{}, Trees: map[string]*faulttree.Tree{"pedestal": pedestal, "tingle": tingle},
		Touch: touch}
	for _, t := range f.Trees {
		t.Index()
	}
	if careless {
		pedestal.Step("hot").NotPossible.To.Step = "ground"
	}
	for _, q := range []faulttree.Quantity{hotNeutral, hotGround, proof, body} {
		f.Quantities[q.ID] = q
	}
	return f
}

func handbook(f *faulttree.Forest) trial.Handbook {
	return trial.Handbook{Forest: f, Rigs: []*rig.Rig{trailer()}, Faults: faults()}
}

func findingOf(t *testing.T, r *trial.Report, id string) trial.FindingReport {
	t.Helper()
	for _, f := range r.Findings {
		if f.ID == id {
			return f
		}
	}
	t.Fatalf("the report has no finding %s", id)
	return trial.FindingReport{}
}
