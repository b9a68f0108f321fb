package circuit

import (
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"regexp"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// A 10 MΩ meter across the lower of two 250 MΩ on 24 V (S03, Lessons In
// Electric Circuits, DC/dcmeter, published).
func TestMeterLoadsWhatItMeasures(t *testing.T) {
	r := row(t, table(t, "08_meter.csv"), "published", "item", "example: 24 V, two 250 Mohm, 10 Mohm meter across lower", "source", "S03")
	n := new(Net)
	n.Voltage("battery", "plus", "0", 24, 0)
	n.Resistor("upper", "plus", "tap", 250e6)
	n.Resistor("lower", "tap", "0", 250e6)
	s := solved(t, n, 0)
	near(t, "no meter", volts(t, s, n, "tap", "0"), 12, 1e-9)
	near(t, "10 MΩ meter", reads(t, s, n.Node("tap"), Earth, 10e6), figure(t, strings.TrimSuffix(r["value"], " V")), 5e-5)
}

// 120 V through 50 kΩ to a body with 100 kΩ to earth (closed form).
func TestLeakToTheBody(t *testing.T) {
	text := must.Have(os.ReadFile("../../testdata/reference/diagnosis.yaml"))(t)
	found := regexp.MustCompile(`ghost_voltage:.*volts: \{ideal: ([\d.]+), "10 MΩ": ([\d.]+), "400 kΩ": ([\d.]+), "3 kΩ": ([\d.]+)\}`).FindSubmatch(text)
	if found == nil {
		t.Fatal("the row is missing")
	}
	n := new(Net)
	n.Voltage("hot", "hot", "0", 120, 0)
	n.Resistor("leak", "hot", "body", 50e3)
	n.Resistor("tyres", "body", "0", 100e3)
	s := solved(t, n, 60)
	for i, ohms := range []float64{0, 10e6, 400e3, 3e3} {
		near(t, fmt.Sprintf("meter of %g Ω", ohms), reads(t, s, n.Node("body"), Earth, ohms), figure(t, string(found[i+1])), 1e-3)
	}
}

// A lost body between equal filters on a leg and on the neutral: open, on a
// meter of 10 MΩ and 100 pF, on a low impedance, and into a person's 1500 Ω,
// all derived rows; and each by closed form, V/2 behind twice the capacitance.
func TestFiltersOnALostBody(t *testing.T) {
	rows := table(t, "04_floating_chassis_model.csv")
	expect(t, rows, "6 derived")
	for _, r := range rows {
		farads := figure(t, r["Y_cap_each_nF"]) * 1e-9
		n := split(math.Pi, 12, 12, true)
		n.Capacitor("hot1", "l1", "body", farads)
		n.Capacitor("neutral1", "n", "body", farads)
		s := solved(t, n, 60)
		closed := func(y complex128) float64 {
			through := complex(0, 2*math.Pi*60*2*farads)
			return cmplx.Abs(60 * through / (through + y))
		}
		body := n.Node("body")
		for column, m := range map[string]MeterInput{"open_circuit_V": {}, "V_on_10Mohm_100pF_meter": {10e6, 100e-12}, "V_on_3kohm_LoZ": {Ohms: 3000}} {
			got := must.Have(s.Reads(body, Earth, m))(t)
			y := complex(0, 2*math.Pi*60*m.Farads)
			if m.Ohms > 0 {
				y += complex(1/m.Ohms, 0)
			}
			near(t, column+" by closed form", got, closed(y), 1e-9)
			near(t, column, got, figure(t, r[column]), 0.005*figure(t, r[column]))
		}
		amps := reads(t, s, body, Earth, 1500) / 1500
		near(t, "mA into 1500 Ω", amps*1000, figure(t, r["mA_in_1500ohm"]), 0.01*figure(t, r["mA_in_1500ohm"]))
	}
}

// A coil raises what a meter with a capacitance reads, the most at resonance: by closed
// form R / (R + jωL (1 + jωCR)) of the voltage, of which the size has its highest value
// where ωL is ωC / (1/R² + ω²C²).
func TestACoilRaisesWhatAMeterReads(t *testing.T) {
	const hertz, volts = 60, 24
	omega := 2 * math.Pi * hertz
	for _, m := range []MeterInput{{10e6, 100e-12}, {10e3, 1e-6}, {3e3, 0}} {
		b := omega * m.Farads
		resonant := b / (1/m.Ohms/m.Ohms + b*b) / omega
		for _, part := range []float64{1e-3, 0.5, 1, 2, 1e3} {
			n := new(Net)
			n.Voltage("source", "in", "0", volts, 0)
			henries := part * max(resonant, 1)
			n.Inductor("coil", "in", "out", henries)
			got := cmplx.Abs(must.Have(solved(t, n, hertz).Reads(n.Node("out"), Earth, m))(t))
			near(t, "the reading", complex(got, 0), volts*cmplx.Abs(complex(m.Ohms, 0)/(complex(m.Ohms, 0)+complex(0, omega*henries)*complex(1, b*m.Ohms))), 1e-6)
			if most := volts * m.Raises(hertz); got > most*(1+1e-9) || part == 1 && b > 0 && got < most*(1-1e-6) {
				t.Errorf("it reads %v; at most %v are possible, and at resonance", got, most)
			}
		}
	}
	if got := (MeterInput{Farads: 1e-9}).Raises(hertz); !math.IsInf(got, 1) {
		t.Errorf("a capacitance alone raises up to %v times", got)
	}
}

// Filters cancel: derived rows.
func TestFiltersCancel(t *testing.T) {
	rows := table(t, "04_floating_chassis_by_supply.csv")
	expect(t, rows, "4 derived")
	for i, c := range []struct {
		angle float64
		both  bool
	}{{math.Pi, false}, {math.Pi, true}, {math.Pi, false}, {2 * math.Pi / 3, true}} {
		n := split(c.angle, 12, 12, true)
		n.Capacitor("hot1", "l1", "body", 20e-9)
		n.Capacitor("neutral1", "n", "body", 20e-9)
		if c.both {
			n.Capacitor("hot2", "l2", "body", 20e-9)
			n.Capacitor("neutral2", "n", "body", 20e-9)
		}
		s := solved(t, n, 60)
		near(t, rows[i]["supply"]+", "+rows[i]["filters"], volts(t, s, n, "body", "0"), figure(t, rows[i]["chassis_to_ground_open_circuit_V"]), 1e-6)
		if v := cmplx.Abs(reads(t, s, n.Node("body"), Earth, 3000)); v > 6 {
			t.Errorf("%s: a low impedance still reads %.1f V", rows[i]["supply"], v)
		}
	}
}

// An open wire beside a live one, 100 pF/m for 10 m (common practice, no
// source): by closed form |jωRC/(1+jωRC)| of line on any meter. 10 MΩ shows
// nearly line, 3 kΩ next to nothing; a leak of 1 kΩ stays on both.
func TestGhostThroughACapacitance(t *testing.T) {
	const farads = 1e-9
	n := new(Net)
	n.Voltage("hot", "hot", "0", 120, 0.1)
	n.Capacitor("beside", "hot", "open", farads)
	n.Resistor("leak", "hot", "wet", 1000)
	s := solved(t, n, 60)
	for _, ohms := range []float64{10e6, 1e6, 400e3, 3e3} {
		wrc := 2 * math.Pi * 60 * farads * ohms
		near(t, fmt.Sprintf("ghost on %g Ω", ohms), reads(t, s, n.Node("open"), Earth, ohms), 120*wrc/math.Hypot(1, wrc), 0.001)
		near(t, fmt.Sprintf("leak on %g Ω", ohms), reads(t, s, n.Node("wet"), Earth, ohms), 120*ohms/(ohms+1000.1), 1e-6)
	}
	if high, low := cmplx.Abs(reads(t, s, n.Node("open"), Earth, 10e6)), cmplx.Abs(reads(t, s, n.Node("open"), Earth, 3e3)); high < 110 || low > 0.2 {
		t.Errorf("the ghost is %.1f V on 10 MΩ and %.2f V on 3 kΩ", high, low)
	}
}

// A loaded cord with conductors alike shows half of its drop between neutral
// and ground at its end, the ground carrying nothing (closed form); the other
// half is missing between hot and ground.
func TestHalfOfTheDropShowsOnTheNeutral(t *testing.T) {
	wire := Copper().Ohms(15, GaugeMetres(10), 20)
	for _, load := range []float64{100, 12, 4} {
		n := new(Net)
		n.Voltage("pedestal", "ph", "pn", 120, 0)
		n.Resistor("bond", "pn", "pg", 0)
		n.Resistor("site", "pg", "0", 5)
		for _, c := range []string{"h", "n", "g"} {
			n.Resistor("cord "+c, "p"+c, "v"+c, wire)
		}
		n.Resistor("load", "vh", "vn", load)
		s := solved(t, n, 60)
		drop := 120 - real(volts(t, s, n, "vh", "vn"))
		near(t, "drop", complex(drop, 0), 120*2*wire/(2*wire+load), 1e-9)
		near(t, "neutral to ground", volts(t, s, n, "vn", "vg"), drop/2, 1e-9)
		near(t, "hot to ground", volts(t, s, n, "vh", "vg"), 120-drop/2, 1e-9)
	}
}

// What a meter reads is the voltage in a net that has the meter among its elements,
// whether one elimination tells what it loads or not.
func TestReadsAreThoseOfANetWithTheMeter(t *testing.T) {
	roughly, closely := 0, 0
	for seed := range uint64(60) {
		n := random(seed, 8+int(seed%12))
		s := solved(t, n, 60)
		for _, m := range []MeterInput{{Ohms: 10e6, Farads: 100e-12}, {Ohms: 3e3}, {Ohms: 50}} {
			for b := range Node(n.Nodes()) {
				a := Node(int(seed) % n.Nodes())
				if !s.SameIsland(a, b) || a == b {
					continue
				}
				with := n.Clone()
				with.Add(Element{Name: "meter", Kind: Resistor, A: a, B: b, Value: m.Ohms})
				if m.Farads > 0 {
					with.Add(Element{Name: "input", Kind: Capacitor, A: a, B: b, Value: m.Farads})
				}
				loaded, err := Compile(with, 60)
				if err != nil {
					continue // an exact voltage across an exact short, say
				}
				want, _ := loaded.Voltage(a, b)
				got := must.Have(s.Reads(a, b, m))(t)
				open, _ := s.Voltage(a, b)
				if cmplx.Abs(got-want) > 1e-8*max(1, cmplx.Abs(open)) {
					t.Errorf("seed %d, node %d to %d: %v Ω reads %v; in the net it is %v", seed, a, b, m.Ohms, got, want)
				}
				if z := size(s.roughly(a, b)); z*z/m.Ohms <= roughOhms {
					roughly++
				} else {
					closely++
				}
			}
		}
	}
	if min(roughly, closely) < 100 {
		t.Errorf("%d are told by one elimination, %d are not: that shows little", roughly, closely)
	}
}
