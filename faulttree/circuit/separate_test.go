package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// The only tie of a floating body is taken away: its voltage is undefined, and
// no rounding may make a low reading of it.
func TestTakingTheOnlyTieIsNeverARead(t *testing.T) {
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 1))
		n := new(Net)
		n.Voltage("hot", "hot", "0", 120, 0.05)
		n.Resistor("load", "hot", "0", 1+100*r.Float64())
		n.Resistor("tie", "hot", "b0", 1e9)
		for i := 1; i < 6; i++ {
			n.Resistor(fmt.Sprint("bond", i), fmt.Sprint("b", r.IntN(i)), fmt.Sprint("b", i), 1e-3*(0.5+r.Float64()))
		}
		s := solved(t, n, 60)
		v, ok := s.Pair(n.Node("hot"), n.Node("b0")).With(-1e-9, n.Node("b3"), Earth)
		if ok {
			t.Fatalf("seed %d: a body tied to nothing reads %v", seed, v)
		}
		edited := n.Clone()
		edited.elements[edited.index()["tie"]].Open = true
		if _, ok := solved(t, edited, 60).Voltage(n.Node("b3"), Earth); ok {
			t.Fatalf("seed %d: solved anew it is defined", seed)
		}
	}
}

// A meter whose capacitance resonates exactly with what it measures: the
// update cancels, the answer comes from a full solution and is not zero.
func TestMeterAtResonance(t *testing.T) {
	hertz := 1 / (2 * math.Pi)
	n := new(Net)
	n.Voltage("source", "s", "0", 1, 1e-6)
	n.Inductor("coil", "s", "x", 1)
	s := solved(t, n, hertz)
	v, err := s.Reads(n.Node("x"), Earth, MeterInput{Farads: 1})
	if err != nil || math.Abs(cmplx.Abs(v)-1e6) > 10 {
		t.Errorf("at resonance the meter shows %v, %v; want 1e6 V", v, err)
	}
}

func TestShortAcrossAnExactSourceHasNoAnswer(t *testing.T) {
	n := new(Net)
	n.Voltage("a", "x", "0", 12, 0)
	n.Voltage("b", "y", "x", 12, 0)
	n.Resistor("load", "y", "0", 10)
	s := solved(t, n, 60)
	if v, ok := s.Pair(n.Node("y"), Earth).Shorted(n.Node("y"), Earth); ok {
		t.Errorf("two exact sources shorted read %v", v)
	}
}

func TestSolverKeepsItsOwnNet(t *testing.T) {
	n := new(Net)
	n.Voltage("a", "x", "0", 12, 0)
	n.Resistor("load", "x", "0", 2)
	s := solved(t, n, 0)
	n.elements[n.byName["load"]].Open = true
	if i, ok := s.CurrentAt(s.place(t, "load")); !ok || i != 6 {
		t.Errorf("after the net was edited the solver has %v A, want 6", i)
	}
}

func TestNetlistRefusesNamesThatClash(t *testing.T) {
	for _, names := range [][2]string{{"a.b", "a_b"}, {"L1", "l1"}, {"gnd", "x"}, {"inside_0", "x"}} {
		n := new(Net)
		n.Voltage("v", names[0], "0", 1, 1)
		n.Resistor("r", names[0], names[1], 1)
		n.Resistor("q", names[1], "0", 1)
		if text, err := Netlist("clash", n, 60); err == nil || !strings.Contains(err.Error(), "taken") {
			t.Errorf("%v: %v\n%s", names, err, text)
		}
	}
}

// Values by place: the new value is in force after the next factoring, and
// what cannot be changed in place is refused and changes nothing.
func TestValuesByPlace(t *testing.T) {
	n := new(Net)
	n.Voltage("battery", "x", "0", 12, 1)
	n.Resistor("spike", "earth", "0", 5)
	n.Resistor("load", "x", "earth", 6)
	n.Resistor("wire", "x", "y", 0)
	n.Current("idle", "y", "far", 0)
	s := solved(t, n, 0)
	if n.Node("0") != Earth || n.Node("earth") == Earth {
		t.Error("the reference is not the node 0 alone")
	}
	place := func(name string) int {
		i, ok := s.Index(name)
		if !ok {
			t.Fatalf("%s has no place", name)
		}
		return i
	}
	must.Do(t, errors.Join(s.SetValueAt(place("load"), 18), s.SetPhasorAt(place("battery"), 24), s.Factor()))
	if i, ok := s.CurrentAt(place("load")); !ok || cmplx.Abs(i-1) > 1e-12 {
		t.Errorf("the load draws %v A, want 1", i)
	}
	for what, err := range map[string]error{
		"to zero":        s.SetValueAt(place("load"), 0),
		"from zero":      s.SetValueAt(place("wire"), 1),
		"across islands": s.SetPhasorAt(place("idle"), 1),
	} {
		if !errors.Is(err, ErrStructure) {
			t.Errorf("%s: %v", what, err)
		}
	}
	for what, err := range map[string]error{
		"negative":       s.SetValueAt(place("load"), -1),
		"not a number":   s.SetValueAt(place("load"), math.NaN()),
		"endless":        s.SetValueAt(place("load"), math.Inf(1)),
		"endless phasor": s.SetPhasorAt(place("battery"), cmplx.Inf()),
		"below the list": s.SetValueAt(-1, 1),
		"past the list":  s.SetPhasorAt(5, 1),
	} {
		if err == nil || errors.Is(err, ErrStructure) {
			t.Errorf("%s: %v", what, err)
		}
	}
	must.Do(t, s.Factor())
	if i, ok := s.CurrentAt(place("load")); !ok || cmplx.Abs(i-1) > 1e-12 {
		t.Errorf("after refusals the load draws %v A, want 1", i)
	}
	if _, ok := s.CurrentAt(5); ok {
		t.Error("a place past the list has a current")
	}
}

// At its corner a resistor and a capacitor leave 1/√2 of the voltage, at half of it
// 2/√5, whatever frequency the net was compiled for.
func TestSetHertz(t *testing.T) {
	n := new(Net)
	n.Voltage("supply", "in", "0", 10, 0)
	n.Resistor("r", "in", "out", 1e3)
	n.Capacitor("c", "out", "0", 1e-6)
	s := solved(t, n, 60)
	corner := 1 / (2 * math.Pi * 1e-3)
	for _, x := range []struct{ hertz, volts float64 }{{corner, 10 / math.Sqrt2}, {corner / 2, 20 / math.Sqrt(5)}} {
		if err := errors.Join(s.SetHertz(x.hertz), s.Factor()); err != nil {
			t.Fatal(err)
		}
		if v, ok := s.Voltage(n.Node("out"), Earth); !ok || math.Abs(cmplx.Abs(v)-x.volts) > 1e-9 {
			t.Errorf("at %.1f Hz %v V, want %.4f", x.hertz, v, x.volts)
		}
	}
	if err := s.SetHertz(0); !errors.Is(err, ErrStructure) {
		t.Errorf("to direct current: %v", err)
	}
	for _, none := range []float64{-1, math.NaN(), math.Inf(1)} {
		if err := s.SetHertz(none); err == nil || errors.Is(err, ErrStructure) {
			t.Errorf("%v Hz: %v", none, err)
		}
	}
}
