package circuit

import (
	"encoding/csv"
	"fmt"
	"math"
	"math/cmplx"
	"os"
	"strconv"
	"strings"
	"testing"
)

func near(t *testing.T, what string, got complex128, want, within float64) {
	t.Helper()
	if math.Abs(cmplx.Abs(got)-want) > within {
		t.Errorf("%s is %.6g, want %g ± %g", what, cmplx.Abs(got), want, within)
	}
}

func solved(t testing.TB, n *Net, hertz float64) *Solver {
	t.Helper()
	s, err := Compile(n, hertz)
	if err != nil {
		t.Fatal(err)
	}
	return s
}

func volts(t *testing.T, s *Solver, n *Net, a, b string) complex128 {
	t.Helper()
	v, ok := s.Voltage(n.Node(a), n.Node(b))
	if !ok {
		t.Fatalf("the voltage from %s to %s is undefined", a, b)
	}
	return v
}

func reads(t *testing.T, s *Solver, a, b Node, ohms float64) complex128 {
	t.Helper()
	v, err := s.Reads(a, b, Meter{Ohms: ohms})
	if err != nil {
		t.Fatal(err)
	}
	return v
}

func table(t *testing.T, name string) []map[string]string {
	t.Helper()
	f, err := os.Open("../../testdata/reference/" + name)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	all, err := csv.NewReader(f).ReadAll()
	if err != nil {
		t.Fatal(err)
	}
	var out []map[string]string
	for _, record := range all[1:] {
		row := map[string]string{}
		for i, column := range all[0] {
			row[column] = record[i]
		}
		out = append(out, row)
	}
	return out
}

func figure(t *testing.T, text string) float64 {
	t.Helper()
	v, err := strconv.ParseFloat(text, 64)
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// split is a supply of two legs with loads, its neutral tied to earth.
func split(angle, ra, rb float64, neutral bool) *Net {
	n := new(Net)
	n.Voltage("leg1", "l1", "n", 120, 0)
	n.Voltage("leg2", "l2", "n", cmplx.Rect(120, angle), 0)
	n.Resistor("bond", "n", "0", 0)
	n.Resistor("load1", "l1", "mid", ra)
	n.Resistor("load2", "l2", "mid", rb)
	if neutral {
		n.Resistor("neutral", "mid", "n", 1e-9)
	}
	return n
}

// Rows of testdata/reference/06_open_neutral.csv: the inputs are published
// (training slides), quoted (a textbook problem) or derived; the results are
// computed from them by Ohm's law.
func TestOpenNeutral(t *testing.T) {
	for _, r := range table(t, "06_open_neutral.csv") {
		for _, c := range []struct {
			supply string
			angle  float64
		}{{"240", math.Pi}, {"208", 2 * math.Pi / 3}} {
			n := split(c.angle, figure(t, r["Ra_ohm"]), figure(t, r["Rb_ohm"]), false)
			s := solved(t, n, 60)
			near(t, r["loads"]+" leg 1 of "+c.supply, volts(t, s, n, "l1", "mid"), figure(t, r["Va_open_"+c.supply]), 0.01)
			near(t, r["loads"]+" leg 2 of "+c.supply, volts(t, s, n, "l2", "mid"), figure(t, r["Vb_open_"+c.supply]), 0.01)
			i, _ := s.Current("load1")
			near(t, r["loads"]+" current of "+c.supply, i, figure(t, r["I_open_"+c.supply+"_A"]), 0.001)
		}
		n := split(math.Pi, figure(t, r["Ra_ohm"]), figure(t, r["Rb_ohm"]), true)
		s := solved(t, n, 60)
		i, _ := s.Current("neutral")
		near(t, r["loads"]+" neutral", i, figure(t, r["In_closed_120_240_A"]), 0.001)
		near(t, r["loads"]+" leg 1, neutral closed", volts(t, s, n, "l1", "mid"), 120, 0.01)
	}
}

// Two legs 120° apart stand at 207.8 V, and two equal 83.33 A loads on them
// put 83.33 A into the neutral (Lessons In Electric Circuits, AC/poly,
// published). On the nominal 208 V an element of 5500 W at 240 V gives 4131 W
// (a heater maker's example, published).
func TestWye(t *testing.T) {
	n := split(2*math.Pi/3, 1.44, 1.44, true)
	s := solved(t, n, 60)
	between := volts(t, s, n, "l1", "l2")
	near(t, "between two legs of a wye", between, 207.8, 0.1)
	i, _ := s.Current("neutral")
	near(t, "neutral of two equal loads", i, 83.33, 0.01)

	n = new(Net)
	n.Voltage("supply", "l1", "l2", 208, 0)
	n.Resistor("element", "l1", "l2", 240.0*240/5500)
	s = solved(t, n, 60)
	i, _ = s.Current("element")
	near(t, "5500 W element on 208 V", volts(t, s, n, "l1", "l2")*cmplx.Conj(i), 4131, 1)
}

// A 10 MΩ meter across the lower of two 250 MΩ on 24 V reads 0.8889 V, not 12
// (Lessons In Electric Circuits, DC/dcmeter, published).
func TestMeterLoadsWhatItMeasures(t *testing.T) {
	n := new(Net)
	n.Voltage("battery", "plus", "0", 24, 0)
	n.Resistor("upper", "plus", "tap", 250e6)
	n.Resistor("lower", "tap", "0", 250e6)
	s := solved(t, n, 0)
	near(t, "no meter", volts(t, s, n, "tap", "0"), 12, 1e-9)
	near(t, "10 MΩ meter", reads(t, s, n.Node("tap"), Earth, 10e6), 0.8889, 1e-4)
}

// 120 V through 50 kΩ to a body with 100 kΩ to earth: closed form, 80 V ideal,
// 79.734 V at 10 MΩ, 73.846 V at 400 kΩ, 6.606 V at 3 kΩ.
func TestLeakToTheBody(t *testing.T) {
	n := new(Net)
	n.Voltage("hot", "hot", "0", 120, 0)
	n.Resistor("leak", "hot", "body", 50e3)
	n.Resistor("tyres", "body", "0", 100e3)
	s := solved(t, n, 60)
	for _, c := range []struct{ ohms, want float64 }{{0, 80}, {10e6, 79.734}, {400e3, 73.846}, {3e3, 6.606}} {
		near(t, fmt.Sprintf("meter of %g Ω", c.ohms), reads(t, s, n.Node("body"), Earth, c.ohms), c.want, 1e-3)
	}
}

// Two equal filters hold a lost body at half of line on one leg, at nothing
// between the legs of 120/240 V and at 30 V on 120/208 V; on low impedance a
// filter's voltage collapses (closed form; testdata row derived).
func TestFiltersOnALostBody(t *testing.T) {
	for _, c := range []struct {
		name  string
		angle float64
		both  bool
		want  float64
	}{{"one leg", math.Pi, false, 60}, {"120/240", math.Pi, true, 0}, {"120/208", 2 * math.Pi / 3, true, 30}} {
		n := split(c.angle, 12, 12, true)
		n.Capacitor("hot1", "l1", "body", 20e-9)
		n.Capacitor("neutral1", "n", "body", 20e-9)
		if c.both {
			n.Capacitor("hot2", "l2", "body", 20e-9)
			n.Capacitor("neutral2", "n", "body", 20e-9)
		}
		s := solved(t, n, 60)
		near(t, c.name, volts(t, s, n, "body", "0"), c.want, 1e-6)
		if c.want > 0 {
			if v := cmplx.Abs(reads(t, s, n.Node("body"), Earth, 3000)); v > 6 {
				t.Errorf("%s: a low impedance still reads %.1f V", c.name, v)
			}
		}
	}
}

// Copper at 20 °C and the diameters of American gauges: a university's wire
// table (published), all rows within 0.1 % and 0.2 %.
func TestWireTable(t *testing.T) {
	for _, r := range table(t, "01_copper_20C.csv") {
		d := GaugeMetres(figure(t, r["awg"]))
		near(t, "diameter of gauge "+r["awg"], complex(d/0.0254, 0), figure(t, r["diameter_in"]), 0.002*figure(t, r["diameter_in"]))
		want := figure(t, r["ohm_per_1000ft_20C"])
		near(t, "1000 ft of gauge "+r["awg"], complex(Copper().Ohms(304.8, d, 20), 0), want, 0.001*want)
	}
}

func TestTransformerAndPower(t *testing.T) {
	n := new(Net)
	n.Voltage("grid", "p", "q", 7200, 5)
	n.Transformer("pole", "p", "q", "l1", "n", 60)
	n.Resistor("bond", "n", "0", 0)
	n.Resistor("load", "l1", "n", 12)
	s := solved(t, n, 60)
	load, _ := s.Current("load")
	source, _ := s.Current("grid")
	near(t, "secondary", volts(t, s, n, "l1", "n"), 120-10.0/60*5/60, 0.01)
	given := -volts(t, s, n, "p", "q") * cmplx.Conj(source)
	near(t, "power given less power used", given-volts(t, s, n, "l1", "n")*cmplx.Conj(load), 0, 1e-6)
	if _, ok := s.Voltage(n.Node("p"), n.Node("l1")); ok {
		t.Error("the voltage between primary and secondary is defined")
	}
	if v := reads(t, s, n.Node("p"), n.Node("l1"), 10e6); v != 0 {
		t.Errorf("a meter between the islands shows %v", v)
	}
}

func TestRefusals(t *testing.T) {
	for want, build := range map[string]func(*Net){
		"voltage source b closes a loop": func(n *Net) { n.Voltage("a", "x", "0", 5, 0); n.Voltage("b", "x", "0", 6, 0) },
		"current source i has no way":    func(n *Net) { n.Current("i", "x", "y", 1) },
		"same name":                      func(n *Net) { n.Resistor("r", "x", "0", 1); n.Resistor("r", "x", "y", 1) },
		"not a finite number":            func(n *Net) { n.Resistor("r", "x", "0", math.NaN()) },
		"negative":                       func(n *Net) { n.Resistor("r", "x", "0", -1) },
		"at most":                        func(n *Net) { ladder(n, 20000) },
		"too dense": func(n *Net) {
			for i := range 40000 {
				n.Resistor(strconv.Itoa(i), strconv.Itoa(i%4000), strconv.Itoa(1+(i*7919+i/4000*104729*(i%4000+3))%4000), 1)
			}
		},
	} {
		n := new(Net)
		build(n)
		if _, err := Compile(n, 60); err == nil || !strings.Contains(err.Error(), want) {
			t.Errorf("got %v, want an error with %q", err, want)
		}
	}
}

func ladder(n *Net, rungs int) {
	n.Voltage("source", "rung.0", "0", 120, 0.1)
	for i := range rungs {
		a, b := "rung."+strconv.Itoa(i), "rung."+strconv.Itoa(i+1)
		n.Resistor("rail"+b, a, b, 1+float64(i%7))
		n.Capacitor("leak"+b, b, "0", 1e-6*float64(1+i%5))
	}
}
