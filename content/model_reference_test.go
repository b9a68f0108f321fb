package content_test

import (
	"maps"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree/bench"
	"faultwright/faulttree/must"
	"faultwright/faulttree/rig"
)

func number(t *testing.T, r map[string]string, column string) float64 {
	t.Helper()
	return figure(t, r[column])
}

func within(t *testing.T, what string, got, want, tolerance float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tolerance) {
		t.Errorf("%s is %.5g; expected %.5g within %g", what, got, want, tolerance)
	}
}

// Two loads in series share the voltage between the hots by their resistances
// (table 06_open_neutral, loads published or quoted, results derived), on
// 120/240 V and on two legs of a wye. The shares are compared, since a rig has
// a supply that sags. The outlet's lamp is taken out of the leg.
func TestOpenNeutralSharesAsTheExamplesDo(t *testing.T) {
	lib := shipped()
	for id, columns := range map[string][3]string{"coach-50a": {"Va_open_240", "Vb_open_240"}, "coach-50a-wye": {"Va_open_208", "Vb_open_208"}} {
		s := standOf(t, lib, id)
		for _, row := range rows(t, "06_open_neutral") {
			a, b := number(t, row, "Ra_ohm"), number(t, row, "Rb_ohm")
			if a < 5 { // more than the vehicle's breaker carries once the neutral is whole
				continue
			}
			s.fault("open-neutral", "in the cord")
			setup := rig.Setup{Values: s.values(map[string]float64{
				"load-l1": 14400 / a, "load-l2": 14400 / b, "outlet-lamp": 0, "standby-l1": 0, "standby-l2": 0,
			})}
			f := lib.Faults["open-neutral"].Edits
			for i, v := range f.Variants {
				if v.Text == "in the cord" {
					setup.Faults = []rig.Applied{{Fault: f, Variant: i}}
				}
			}
			s.put(setup)
			va, vb := s.reads("panel.l1-n@loaded"), s.reads("panel.l2-n@loaded")
			wa, wb := number(t, row, columns[0]), number(t, row, columns[1])
			within(t, id+", "+row["loads"], va/(va+vb), wa/(wa+wb), 0.001)
			within(t, id+", sum of the legs", va+vb, s.reads("panel.l1-l2@loaded"), 1)
		}
	}
}

// Two like loads cancel in the neutral of 120/240 V and put a full leg current
// into that of two legs of a wye; two legs of a wye stand 207.8 V apart, and a
// 240 V element makes 0.751 of its heat there (published: open textbook and a
// printed example).
func TestSplitPhaseAndWye(t *testing.T) {
	lib := shipped()
	like := map[string]float64{"load-l1": 1200, "load-l2": 1200, "outlet-lamp": 0}
	split, wye := standOf(t, lib, "coach-50a"), standOf(t, lib, "coach-50a-wye")
	currents := func(s stand) (leg, neutral float64) {
		s.put(rig.Setup{Values: s.values(like)})
		pic := must.Have(s.Solve(bench.State{Loads: map[string]bool{"l1": true, "l2": true}}))(t)
		return cmplx.Abs(pic.Amps["main.l1"]), cmplx.Abs(pic.Amps["main-n"])
	}
	leg, neutral := currents(split)
	within(t, "neutral current on 120/240 V", neutral/leg, number(t, row(t, "06_split_and_wye", "case", "two 10 kW loads, 120/240"), "value"), 0.001)
	leg, neutral = currents(wye)
	within(t, "neutral current on a wye", neutral/leg, 1, 0.03)

	wye.put(rig.Setup{})
	hots := row(t, "06_split_and_wye", "case", "two 120 V legs 120 deg apart")
	within(t, "hot to hot of a wye, on 120 V a leg", wye.reads("pedestal.l1-l2")/wye.reads("pedestal.l1-n")*120, number(t, hots, "value"), 0.6)
	within(t, "share of a heater's power", math.Pow(208./240, 2), number(t, row(t, "06_split_and_wye", "case", "1000 W 240 V on 208 V"), "value")/1000, 1e-4)
	heat := func(s stand, volts float64) float64 {
		s.put(rig.Setup{Values: s.values(map[string]float64{"load-l1l2": 1000, "source.l1": volts, "source.l2": volts})})
		pic := must.Have(s.Solve(bench.State{Loads: map[string]bool{"l1l2": true}}))(t)
		v := pic.Volts["panel.l1"] - pic.Volts["panel.l2"]
		return cmplx.Abs(v * cmplx.Conj(pic.Amps["load-l1l2"]))
	}
	within(t, "a heater on a wye against 120/240 V", heat(wye, 120)/heat(split, 120), 0.75, 0.005)
}

// Like filters on both legs put a body without ground at 0 V on 120/240 V and
// at 30 V on 120/208 V, filters on one leg at half of line (table
// 04_floating_chassis_by_supply, derived); low impedance pulls it down.
func TestBodyWithoutGroundBySupply(t *testing.T) {
	lib := shipped()
	for _, test := range []struct {
		id, supply, filters string
		one                 bool
	}{
		{"trailer-30a", "one 120 V leg (TT 30 A)", "one equal line/neutral Y pair", false},
		{"coach-50a", "120/240, both legs", "equal Y pairs on both legs", false},
		{"coach-50a", "120/240, both legs", "a pair on one leg only", true},
		{"coach-50a-wye", "120/208, both legs", "equal Y pairs on both legs", false},
	} {
		s := standOf(t, lib, test.id)
		s.fault("open-ground", "in the cord")
		set := map[string]float64{"tyres": 1e13, "standby-l1": 0, "branch-coupling-hg": 0, "branch-coupling-ng": 0, "cord.coupling": 0, "insulation-l1": 1e13, "insulation-n": 1e13, "body-capacitance": 0}
		if test.one {
			set["filter-l2"] = 0
		}
		if test.id != "trailer-30a" {
			set["insulation-l2"], set["standby-l2"] = 1e13, 0
		}
		f := lib.Faults["open-ground"].Edits
		var setup rig.Setup
		for i, v := range f.Variants {
			if v.Text == "in the cord" {
				setup = rig.Setup{Values: s.values(set), Faults: []rig.Applied{{Fault: f, Variant: i}}}
			}
		}
		s.put(setup)
		want := number(t, row(t, "04_floating_chassis_by_supply", "supply", test.supply, "filters", test.filters), "chassis_to_ground_open_circuit_V")
		within(t, test.id+" on "+test.supply+", "+test.filters, s.reads("body-panel.g"), 0, 0.01)
		within(t, test.id+" on "+test.supply+", "+test.filters, s.reads("panel.n-earth"), 0, 5)
		within(t, test.id+" on "+test.supply+", "+test.filters, s.reads("body-earth"), want, 1.2)
		if want > 0 && s.reads("body-earth@lowz") > 0.2*want {
			t.Errorf("%s: low impedance leaves %.3g V of a capacitive reading", test.id, s.reads("body-earth@lowz"))
		}
	}
}

// A class A device does not open below 4 mA and opens from 6 mA on, whatever
// one is drawn (quoted from UL 943).
func TestResidualDevicesOpenInTheirWindow(t *testing.T) {
	lib := shipped()
	s := standOf(t, lib, "trailer-30a")
	leak := &rig.Fault{ID: "leak", Variants: []rig.Variant{{Edits: []rig.Edit{{
		Kind: rig.Connect, Nodes: [2]string{"outlet.h", "outlet.g"}, Ohms: rig.EditValue{Severity: true, Factor: 1},
	}}}}}
	rng := rand.New(rand.NewPCG(9, 4))
	for range 200 {
		values := s.rig.Draw(rng)
		s.put(rig.Setup{Values: values})
		volts := s.reads("outlet.h-g")
		for _, r := range rows(t, "03_gfci") {
			opens := strings.HasPrefix(r["must"], "trip")
			text := strings.TrimLeft(r["residual_mA"], "<>=")
			if _, err := strconv.ParseFloat(text, 64); err != nil { // a rule in words, or a figure from memory
				continue
			}
			amps := figure(t, text) / 1000
			if !opens {
				amps *= 0.9 // the cable's own capacitance leaks a little beside it
			} else {
				amps *= 1.005
			}
			s.put(rig.Setup{Values: values, Faults: []rig.Applied{{Fault: leak, Severity: volts / amps}}})
			if m := s.measured("outlet.h-n"); (len(m.Tripped) > 0) != opens {
				t.Fatalf("%s mA (%s): %v opens", r["residual_mA"], r["must"], m.Tripped)
			}
		}
	}
}

// Half of the drop in a cord whose conductors are alike stands between neutral
// and ground, and a cord has the resistance of the published copper table: 14
// AWG, 2.525 Ω for each 1000 ft.
func TestHalfOfTheDropIsInTheNeutral(t *testing.T) {
	lib := shipped()
	s := standOf(t, lib, "trailer-30a")
	s.fault("undersized-cord", "")
	pic := must.Have(s.Solve(bench.State{Loads: map[string]bool{"l1": true}}))(t)
	drop := func(a, b string) float64 { return cmplx.Abs(pic.Volts[a] - pic.Volts[b]) }
	hot, neutral := drop("plug.l1", "cord.l1"), drop("plug.n", "cord.n")
	within(t, "share of the neutral", neutral/(hot+neutral), 0.5, 0.001)
	within(t, "neutral to ground beyond the cord", drop("cord.n", "cord.g")-drop("plug.n", "plug.g"), neutral, 0.01)
	perFoot := number(t, row(t, "01_copper_20C", "awg", "14"), "ohm_per_1000ft_20C") / 1000
	within(t, "30 m of 14 AWG", s.reads("ohm:plug.n-cord.n@unplugged"), perFoot*30/0.3048, 0.001)
}

// Every fault can be put on every rig that it fits, at both ends of its
// severity, in drawn vehicles: each reading of it comes to an answer.
func TestEveryFaultSettles(t *testing.T) {
	lib := shipped()
	rng := rand.New(rand.NewPCG(5, 5))
	quantities := []string{"panel.l1-n@loaded", "body-earth", "ohm:plug.n-g@unplugged", "dc.pos-neg@loaded", "battery.pos-neg", "tow.aux-gnd@loaded"}
	for _, id := range slices.Sorted(maps.Keys(lib.Rigs)) {
		s, r := standOf(t, lib, id), lib.Rigs[id]
		for _, fault := range slices.Sorted(maps.Keys(lib.Faults)) {
			f := lib.Faults[fault]
			if f.Edits == nil {
				continue
			}
			for i, v := range f.Edits.Variants {
				if !v.FitsIn(r) {
					continue
				}
				ends := []float64{0}
				if p := f.Edits.Severity; p != nil {
					ends = []float64{p.From, p.Value, p.To}
				}
				for _, severity := range ends {
					s.put(rig.Setup{Values: r.Draw(rng), Faults: []rig.Applied{{Fault: f.Edits, Variant: i, Severity: severity}}})
					for _, name := range quantities {
						q := lib.Forest.Quantities[name]
						if !r.HasNode(q.Red) || !r.HasNode(q.Black) {
							continue
						}
						if m, err := s.Measure(q, bench.HighImpedance); err != nil || m.Defined && cmplx.IsNaN(m.Value) {
							t.Errorf("%s with %s, %s, %g: %s reads %v, %v", id, f.ID, v.Text, severity, name, m.Value, err)
						}
					}
				}
			}
		}
	}
}

// A dangerous contact is dangerous at the least severity it is drawn with: at
// the load its receptacle is rated for it shifts a leg by more than 5 %, and a
// poor ground passes less than ten times the pedestal's rating, where a breaker
// opens at once (limits of this handbook; the tenfold from memory).
func TestSeverityHasAFloor(t *testing.T) {
	lib := shipped()
	rated := map[string]map[string]float64{
		"trailer-30a": {"load-l1": 3600, "outlet-lamp": 0},
		"coach-50a":   {"load-l1": 6000, "load-l2": 0, "outlet-lamp": 0},
	}
	for id, loads := range rated {
		s := standOf(t, lib, id)
		for _, fault := range []string{"high-resistance-hot", "high-resistance-neutral", "high-resistance-main"} {
			f := lib.Faults[fault].Edits
			for i, v := range f.Variants {
				if !v.FitsIn(s.rig) || strings.HasPrefix(v.Text, "L2") {
					continue
				}
				s.put(rig.Setup{Values: s.values(loads)})
				sound := s.reads("panel.l1-n@loaded")
				s.put(rig.Setup{Values: s.values(loads), Faults: []rig.Applied{{Fault: f, Variant: i, Severity: f.Severity.From}}})
				if shift := sound - s.reads("panel.l1-n@loaded"); shift < 0.05*120 {
					t.Errorf("%s, %s, in %s shifts the leg by %.3g V only", fault, v.Text, id, shift)
				}
			}
		}
	}
	ground := lib.Faults["high-resistance-ground"].Edits
	if amps := 126 / ground.Severity.From; amps > 10*30 {
		t.Errorf("a ground of %g Ω passes %.0f A: a breaker opens at once", ground.Severity.From, amps)
	}
}
