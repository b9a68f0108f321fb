package circuit

import (
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"
)

// The only tie of a floating body is taken away: its voltage is undefined, and
// no rounding may make a low reading of it.
func TestTakingTheOnlyTieIsNeverARead(t *testing.T) {
	for seed := range uint64(2000) {
		r := rand.New(rand.NewPCG(seed, 1))
		n := new(Net)
		n.Voltage("hot", "hot", "earth", 120, 0.05)
		n.Resistor("load", "hot", "earth", 1+100*r.Float64())
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
		if err := edited.Edit("tie", func(e *Element) { e.Open = true }); err != nil {
			t.Fatal(err)
		}
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
	n.Voltage("source", "s", "earth", 1, 1e-6)
	n.Inductor("coil", "s", "x", 1)
	s := solved(t, n, hertz)
	v, err := s.Reads(n.Node("x"), Earth, Meter{Farads: 1})
	if err != nil || math.Abs(cmplx.Abs(v)-1e6) > 10 {
		t.Errorf("at resonance the meter shows %v, %v; want 1e6 V", v, err)
	}
}

func TestShortAcrossAnExactSourceHasNoAnswer(t *testing.T) {
	n := new(Net)
	n.Voltage("a", "x", "earth", 12, 0)
	n.Voltage("b", "y", "x", 12, 0)
	n.Resistor("load", "y", "earth", 10)
	s := solved(t, n, 60)
	if v, ok := s.Pair(n.Node("y"), Earth).Shorted(n.Node("y"), Earth); ok {
		t.Errorf("two exact sources shorted read %v", v)
	}
}

func TestSolverKeepsItsOwnNet(t *testing.T) {
	n := new(Net)
	n.Voltage("a", "x", "earth", 12, 0)
	n.Resistor("load", "x", "earth", 2)
	s := solved(t, n, 0)
	if err := n.Edit("load", func(e *Element) { e.Open = true }); err != nil {
		t.Fatal(err)
	}
	if i, ok := s.Current("load"); !ok || i != 6 {
		t.Errorf("after the net was edited the solver has %v A, want 6", i)
	}
}

func TestNetlistRefusesNamesThatClash(t *testing.T) {
	for _, names := range [][2]string{{"a.b", "a_b"}, {"L1", "l1"}, {"0", "x"}, {"inside_0", "x"}} {
		n := new(Net)
		n.Voltage("v", names[0], "earth", 1, 1)
		n.Resistor("r", names[0], names[1], 1)
		n.Resistor("q", names[1], "earth", 1)
		if text, err := Netlist("clash", n, 60); err == nil || !strings.Contains(err.Error(), "taken") {
			t.Errorf("%v: %v\n%s", names, err, text)
		}
	}
}

func TestTransformerPassesNoDirectCurrent(t *testing.T) {
	n := new(Net)
	n.Voltage("battery", "p", "earth", 12, 1)
	n.Transformer("t", "p", "earth", "s", "q", 10)
	n.Resistor("load", "s", "q", 1)
	if _, err := Compile(n, 0); err == nil || !strings.Contains(err.Error(), "transformer t") {
		t.Errorf("got %v", err)
	}
}
