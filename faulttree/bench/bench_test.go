package bench_test

import (
	"math"
	"math/cmplx"
	"strings"
	"testing"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

// made is a rig under construction: a small split-phase supply and vehicle.
type made struct{ r *rig.Rig }

func (m made) number(name string, u rig.ParamUnit, v float64) int {
	m.r.Params = append(m.r.Params, rig.Param{Name: name, Unit: u, Value: v, From: v, To: v})
	return len(m.r.Params) - 1
}

func (m made) part(name string, k rig.Kind, a, b string, change func(*rig.Part)) {
	p := rig.NewPart(name, k, a, b)
	if run, wire, ok := strings.Cut(name, "."); ok {
		p.Run, p.Wire = run, wire
	}
	change(&p)
	m.r.Parts = append(m.r.Parts, p)
}

func (m made) ohms(name string, k rig.Kind, a, b string, v float64, more ...func(*rig.Part)) {
	at := m.number(name+".ohms", rig.Ohms, v)
	m.part(name, k, a, b, func(p *rig.Part) {
		p.Params[rig.AttrOhms] = at
		for _, f := range more {
			f(p)
		}
	})
}

// small is a pedestal, a cord and a vehicle with 1500 W on L1 and 500 W on L2.
func small() *rig.Rig {
	m := made{&rig.Rig{ID: "small", Switches: []rig.Switch{{Name: "plug"}, {Name: "main"}},
		States: []rig.StateRule{{When: []faulttree.Condition{faulttree.Unplugged}, Off: []string{"plug"}, Loads: true}}}}
	m.r.Hertz, m.r.Celsius = m.number("hertz", rig.Hertz, 60), m.number("celsius", rig.Celsius, 20)
	plug := func(p *rig.Part) { p.Switch = "plug" }
	main := func(p *rig.Part) { p.Switch = "main" }
	for i, leg := range []string{"l1", "l2"} {
		volts, turn := m.number("source."+leg+".volts", rig.Volts, 120), m.number("source."+leg+".degrees", rig.Degrees, 180*float64(i))
		inside := m.number("source."+leg+".ohms", rig.Ohms, 0.05)
		m.part("source."+leg, rig.Source, "pedestal."+leg, "site.n", func(p *rig.Part) {
			p.Params[rig.AttrVolts], p.Params[rig.AttrDegrees], p.Params[rig.AttrOhms] = volts, turn, inside
		})
		m.ohms("cord."+leg, rig.Conductor, "pedestal."+leg, "feed."+leg, 0.012, plug)
		trip, few := m.number("main."+leg+".trip", rig.Amperes, 67), m.number("main."+leg+".ohms", rig.Ohms, 0.002)
		m.part("main."+leg, rig.Breaker, "feed."+leg, "panel."+leg, func(p *rig.Part) {
			p.Run = "main"
			p.Params[rig.AttrOhms], p.Params[rig.AttrTrip] = few, trip
			main(p)
		})
		watts, at := m.number("load-"+leg+".watts", rig.Watts, 1500-1000*float64(i)), m.number("load-"+leg+".at", rig.Volts, 120)
		m.part("load-"+leg, rig.Load, "panel."+leg, "panel.n", func(p *rig.Part) {
			p.Leg = leg
			p.Params[rig.AttrWatts], p.Params[rig.AttrAtVolts] = watts, at
		})
		farads := m.number("filter-"+leg+".farads", rig.Farads, 20e-9)
		m.part("filter-"+leg, rig.Capacitance, "panel."+leg, "body", func(p *rig.Part) { p.Params[rig.AttrFarads] = farads })
	}
	m.ohms("feeder.n", rig.Conductor, "site.n", "pedestal.n", 0.05)
	m.ohms("feeder.g", rig.Conductor, "site.n", "pedestal.g", 0.05)
	m.ohms("utility", rig.Resistance, "site.n", "0", 5)
	m.ohms("cord.n", rig.Conductor, "pedestal.n", "panel.n", 0.012, plug)
	m.ohms("cord.g", rig.Conductor, "pedestal.g", "body", 0.012, plug)
	m.ohms("tyres", rig.Resistance, "body", "0", 200e3)
	m.ohms("spike", rig.Resistance, "earth", "0", 300)
	farads := m.number("filter-n.farads", rig.Farads, 20e-9)
	m.part("filter-n", rig.Capacitance, "panel.n", "body", func(p *rig.Part) { p.Params[rig.AttrFarads] = farads })
	return m.r
}

func volts(id, red, black string, c ...faulttree.Condition) faulttree.Quantity {
	return faulttree.Quantity{ID: id, Unit: faulttree.VoltsAC, Red: red, Black: black, Conditions: c}
}

func with(t *testing.T, faults ...rig.Applied) *bench.Bench {
	t.Helper()
	r := small()
	if list := r.Check(); list.HasErrors() {
		t.Fatal(list)
	}
	b := must.Have(bench.New(r))(t)
	must.Do(t, b.Set(rig.Setup{Faults: faults}))
	return b
}

func fault(edits ...rig.Edit) rig.Applied {
	return rig.Applied{Fault: &rig.Fault{ID: "made", Variants: []rig.Variant{{Edits: edits}}}}
}

func read(t *testing.T, b *bench.Bench, q faulttree.Quantity) float64 {
	t.Helper()
	m, err := b.Measure(q, bench.HighImpedance)
	if err != nil || !m.Defined {
		t.Fatalf("%s: %v %s", q.ID, err, m.Reason)
	}
	return cmplx.Abs(m.Value)
}

func near(t *testing.T, what string, got, want, within float64) {
	t.Helper()
	if math.Abs(got-want) > within {
		t.Errorf("%s: got %.4g, want %.4g within %.2g", what, got, want, within)
	}
}

// Two loads in series across 240 V: the textbook's open neutral divides by
// resistance, 9.6 Ω and 28.8 Ω (NAVEDTRA 14097 and any circuits text).
func TestOpenNeutral(t *testing.T) {
	b := with(t, fault(rig.Edit{Kind: rig.Open, Parts: []string{"cord.n"}}))
	near(t, "L1", read(t, b, volts("panel.l1-n@loaded", "panel.l1", "panel.n", faulttree.Loaded)), 60, 0.5)
	near(t, "L2", read(t, b, volts("panel.l2-n@loaded", "panel.l2", "panel.n", faulttree.Loaded)), 180, 1)
	near(t, "L1 to L2", read(t, b, volts("panel.l1-l2@loaded", "panel.l1", "panel.l2", faulttree.Loaded)), 240, 2)
}

// Equal filters on both legs of a split supply leave no voltage on a body
// without ground; a filter on one leg leaves half of line.
func TestCancellation(t *testing.T) {
	lost := rig.Edit{Kind: rig.Open, Parts: []string{"cord.g"}}
	body := volts("body-earth", "body", "earth")
	near(t, "both legs", read(t, with(t, fault(lost)), body), 0, 0.5)
	turn := rig.Edit{Kind: rig.Set, Parts: []string{"source.l2"}, Attr: rig.AttrDegrees, Value: rig.EditValue{Fixed: -120}}
	b := with(t, fault(lost, turn, rig.Edit{Kind: rig.Open, Parts: []string{"filter-n"}}))
	near(t, "wye, no filter to neutral", read(t, b, body), 60, 6)
	b = with(t, fault(lost, rig.Edit{Kind: rig.Open, Parts: []string{"filter-l2"}}))
	near(t, "one leg", read(t, b, body), 58, 3)
}

func TestBreakerOpensOnABoltedFault(t *testing.T) {
	b := with(t, fault(rig.Edit{Kind: rig.Connect, Nodes: [2]string{"panel.l1", "body"}}))
	m, err := b.Measure(volts("panel.l1-n", "panel.l1", "panel.n"), bench.HighImpedance)
	if err != nil || len(m.Tripped) != 1 || m.Tripped[0] != "main" {
		t.Fatalf("got %+v, %v; want main tripped", m, err)
	}
	near(t, "dead leg", cmplx.Abs(m.Value), 0, 1)
}

func TestOhmsAreNotReadOnALiveCircuit(t *testing.T) {
	q := faulttree.Quantity{ID: "ohm:panel.l1-n", Unit: faulttree.Ohms, Red: "panel.l1", Black: "panel.n"}
	m, err := with(t).Measure(q, bench.HighImpedance)
	if err != nil || !m.Hazard || m.Defined {
		t.Errorf("got %+v, %v; want a hazard", m, err)
	}
	q.Conditions = []faulttree.Condition{faulttree.Unplugged}
	m, err = with(t).Measure(q, bench.HighImpedance)
	if err != nil || m.Hazard {
		t.Fatalf("got %+v, %v", m, err)
	}
	near(t, "1500 W at 120 V", real(m.Value), 9.6, 1e-6)
}

func TestNumbersChangeWithoutCompiling(t *testing.T) {
	b := with(t)
	q := volts("panel.l1-n@loaded", "panel.l1", "panel.n", faulttree.Loaded)
	first := read(t, b, q)
	values := b.Rig().Values()
	values[b.Rig().Param("source.l1")] = 110
	must.Do(t, b.Set(rig.Setup{Values: values}))
	if second := read(t, b, q); math.Abs(first-second-10) > 0.2 {
		t.Errorf("%.3f V, then %.3f V; want 10 V less", first, second)
	}
	must.Do(t, b.Set(rig.Setup{}))
	near(t, "back again", read(t, b, q), first, 1e-9)
}

// Two faults of the same name, such as one read twice, are two faults.
func TestFaultsAreToldApartByWhatTheyAre(t *testing.T) {
	b := with(t, fault(rig.Edit{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Fixed: 1}}))
	q := volts("panel.l1-n@loaded", "panel.l1", "panel.n", faulttree.Loaded)
	first := read(t, b, q)
	must.Do(t, b.Set(rig.Setup{Faults: []rig.Applied{fault(rig.Edit{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Fixed: 5}})}}))
	if second := read(t, b, q); second > first-5 {
		t.Errorf("1 Ω gives %.2f V, 5 Ω gives %.2f V", first, second)
	}
}

func TestABadRigIsRefused(t *testing.T) {
	r := small()
	r.Parts[0].Switch = "plgu"
	r.Params[2].Value = math.Inf(1)
	list := r.Check()
	if !list.HasErrors() || !strings.Contains(list.Err().Error(), "plug") {
		t.Errorf("got %v; want the switch and the volts refused", list)
	}
	r = small()
	at := r.Param("main.l1.ohms")
	r.Params[at].Value, r.Params[at].From, r.Params[at].To = 0, 0, 0
	if list := r.Check(); !list.HasErrors() || !strings.Contains(list.Err().Error(), "main.l1") {
		t.Errorf("got %v; want a breaker without resistance refused", list)
	}
	b := with(t)
	if err := b.Set(rig.Setup{Faults: []rig.Applied{fault(rig.Edit{Kind: rig.Open, Parts: []string{"no-such"}})}}); err == nil {
		t.Error("a fault on a part that is not there was put in force")
	}
}

func TestAnAbsurdSeverityIsRefused(t *testing.T) {
	f := &rig.Fault{ID: "made", Severity: &rig.Param{Name: "made", Unit: rig.Ohms, Value: 1, From: 0.1, To: 10},
		Variants: []rig.Variant{{Edits: []rig.Edit{{Kind: rig.Resist, Parts: []string{"cord.n"}, Ohms: rig.EditValue{Severity: true, Factor: 1}}}}}}
	b := with(t)
	for _, severity := range []float64{-1, 1e99, math.NaN()} {
		if err := b.Set(rig.Setup{Faults: []rig.Applied{{Fault: f, Severity: severity}}}); err == nil {
			t.Errorf("a severity of %v Ω was put in force", severity)
		}
	}
}

// With the meter in place all currents at every node sum to nothing (Kirchhoff), also
// where parts are exact shorts, and the meter's input draws what its ohms say.
func TestFlowBalances(t *testing.T) {
	b := must.Have(bench.New(small()))(t)
	q := faulttree.Quantity{ID: "leg", Unit: faulttree.VoltsAC, Red: "panel.l1", Black: "panel.n"}
	for _, unit := range []faulttree.Unit{faulttree.VoltsAC, faulttree.Ohms} {
		q.Unit = unit
		st := b.AllOn()
		if unit == faulttree.Ohms {
			st.Off = map[string]bool{"plug": true}
		}
		f := must.Have(b.Flow(q, st, bench.LowImpedance))(t)
		for _, node := range b.Rig().Nodes() {
			if off := f.Unbalanced(node); !(off < 1e-9) {
				t.Errorf("%v: at %s %v A are left over", unit, node, off)
			}
		}
		meter := f.Branches[len(f.Branches)-1]
		if want := cmplx.Abs(meter.Drop) / 3000; unit == faulttree.VoltsAC && (!meter.Meter || math.Abs(cmplx.Abs(meter.Amps)-want) > 1e-9) {
			t.Errorf("the meter draws %v A, want %v", meter.Amps, want)
		}
	}
}
