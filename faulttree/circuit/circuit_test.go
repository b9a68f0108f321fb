package circuit

import (
	"math"
	"math/cmplx"
	"strconv"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

func near(t *testing.T, what string, got complex128, want, within float64) {
	t.Helper()
	if math.Abs(cmplx.Abs(got)-want) > within {
		t.Errorf("%s is %.6g, want %g ± %g", what, cmplx.Abs(got), want, within)
	}
}

func solved(t testing.TB, n *Net, hertz float64) *Solver {
	t.Helper()
	return must.Have(Compile(n, hertz))(t)
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
	return must.Have(s.Reads(a, b, MeterInput{Ohms: ohms}))(t)
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

// place is where the net has the element of this name.
func (s *Solver) place(t *testing.T, name string) int {
	t.Helper()
	i, ok := s.Index(name)
	if !ok {
		t.Fatalf("the net has no element %q", name)
	}
	return i
}

// PowerAt is the complex power that an element takes up, volts times the
// conjugate of amperes: its real part watts, negative where it gives, its
// imaginary part reactive, positive in an inductor. Over a whole net it sums to
// zero. An exact short takes none though its current is not known; ok is false
// only for a place that no element has. It allocates nothing.
func (s *Solver) PowerAt(i int) (voltAmperes complex128, ok bool) {
	if s.there(i) != nil {
		return 0, false
	}
	e := &s.net.elements[i]
	current, known := s.CurrentAt(i)
	if !known || current == 0 {
		return 0, true
	}
	return (s.at(e.A) - s.at(e.B)) * cmplx.Conj(current), true
}

// What the source gives, the loads take up.
func TestPower(t *testing.T) {
	n := new(Net)
	n.Voltage("grid", "p", "q", 120, 0.05)
	n.Resistor("bond", "q", "0", 0)
	n.Resistor("load", "p", "q", 12)
	n.Voltage("far", "l1", "n", 12, 1)
	n.Resistor("other", "l1", "n", 5)
	s := solved(t, n, 60)
	load, _ := s.CurrentAt(s.place(t, "load"))
	source, _ := s.CurrentAt(s.place(t, "grid"))
	given := -volts(t, s, n, "p", "q") * cmplx.Conj(source)
	near(t, "power given less power used", given-volts(t, s, n, "p", "q")*cmplx.Conj(load), 0, 1e-6)
	if _, ok := s.Voltage(n.Node("p"), n.Node("l1")); ok {
		t.Error("the voltage between two islands is defined")
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
