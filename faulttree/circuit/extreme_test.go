package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/big"
	"math/cmplx"
	"math/rand/v2"
	"testing"

	"faultwright/faulttree/must"
)

// Bonds of milliohms and less beside leaks of gigaohms and more: within 1e-9 V
// of exact rational arithmetic, or refused.
func TestStoutBondsBesideFaintLeaks(t *testing.T) {
	refused := 0
	for seed := range uint64(60) {
		r := rand.New(rand.NewPCG(seed, 5))
		bond, leak := math.Exp2(-float64(8+r.IntN(14))), math.Exp2(float64(20+r.IntN(22)))
		n := new(Net)
		n.Voltage("hot", "hot", "0", 120, 0.0625)
		n.Resistor("load", "hot", "0", 12)
		n.Resistor("upper", "hot", "b0", leak)
		n.Resistor("lower", fmt.Sprint("b", r.IntN(8)), "0", leak*float64(1+r.IntN(3)))
		n.Capacitor("stray", "b3", "hot", 1.0/(1<<34))
		for i := 1; i < 8; i++ {
			n.Resistor(fmt.Sprint("bond", i), fmt.Sprint("b", r.IntN(i)), fmt.Sprint("b", i), bond*float64(1+r.IntN(7)))
		}
		n.Resistor("loop", "b1", "b7", bond)
		for _, omega := range []int64{0, 377} {
			s, err := Compile(n, float64(omega)/(2*math.Pi))
			if errors.Is(err, ErrConditioned) {
				refused++
				continue
			}
			if err != nil {
				t.Fatal(err)
			}
			want := exact(t, n, big.NewRat(omega, 1))
			for m := 1; m < n.Nodes(); m++ {
				if got := s.at(Node(m)); cmplx.Abs(got-want[m]) > 1e-9 {
					t.Errorf("seed %d, bonds %g Ω, leaks %g Ω, ω %d: node %s is %v, exactly %v", seed, bond, leak, omega, n.Name(Node(m)), got, want[m])
				}
			}
		}
	}
	t.Logf("%d of 120 refused", refused)
	if refused > 12 {
		t.Errorf("%d of 120 refused", refused)
	}
}

// Leaks of 1e15 Ω beside bonds of 1e-6 Ω are past what the figures can hold:
// the right voltage or a refusal that names a place, never another voltage.
func TestPastWhatFiguresHold(t *testing.T) {
	for seed := range uint64(200) {
		r := rand.New(rand.NewPCG(seed, 6))
		n := new(Net)
		n.Voltage("hot", "hot", "0", 120, 0)
		n.Resistor("upper", "hot", "b0", 1e15)
		n.Resistor("lower", "b5", "0", 1e15)
		for i := 1; i < 6; i++ {
			n.Resistor(fmt.Sprint("bond", i), fmt.Sprint("b", r.IntN(i)), fmt.Sprint("b", i), 1e-6*(0.5+r.Float64()))
		}
		s, err := Compile(n, 0)
		if err != nil {
			if !errors.Is(err, ErrConditioned) {
				t.Fatalf("seed %d: %v", seed, err)
			}
			continue
		}
		p := s.Pair(n.Node("b3"), Earth)
		if ohms, ok := p.Impedance(); ok == (p.Err() != nil) || ok && cmplx.Abs(ohms-5e14) > 1e8 {
			t.Fatalf("seed %d: two leaks of 1e15 Ω side by side are %v Ω, %v", seed, ohms, p.Err())
		}
		if v := s.at(n.Node("b3")); cmplx.Abs(v-60) > 1e-6 {
			t.Fatalf("seed %d: a body between equal leaks reads %v, want 60", seed, v)
		}
	}
}

// A source behind ohms and henries, closed form: 120 V behind 3 Ω and 4 Ω of
// reactance on 12 Ω gives 120*12/|15+4j| V. At 0 Hz the henries are nothing.
func TestSourceWithReactance(t *testing.T) {
	for _, ohms := range []float64{3, 0} {
		n := new(Net)
		n.Add(Element{Name: "source", Kind: VoltageSource, A: n.Node("x"), B: Earth, Phasor: 120, Value: ohms, Henries: 4 / (2 * math.Pi * 60)})
		n.Resistor("load", "x", "0", 12)
		s := solved(t, n, 60)
		near(t, "load", volts(t, s, n, "x", "0"), 120*12/math.Hypot(12+ohms, 4), 1e-9)
		near(t, "load at 0 Hz", volts(t, solved(t, n, 0), n, "x", "0"), 120*12/(12+ohms), 1e-9)
		must.Do(t, errors.Join(s.SetValueAt(s.place(t, "source"), 5), s.Factor()))
		near(t, "load behind 5 Ω", volts(t, s, n, "x", "0"), 120*12/math.Hypot(17, 4), 1e-9)
	}
}

// What all elements of a net take up sums to nothing, resistors take watts
// alone, capacitors and inductors none (Tellegen; conservation, no source).
func TestPowerIsConserved(t *testing.T) {
	for seed := range uint64(400) {
		n := random(seed, 8+int(seed%30))
		s := solved(t, n, 60)
		sum, most := complex128(0), 0.0
		for i, e := range n.Elements() {
			p, ok := s.PowerAt(i)
			if !ok {
				t.Fatalf("seed %d: %s has no power", seed, e.Name)
			}
			sum, most = sum+p, max(most, cmplx.Abs(p))
			slack := 1e-9 * (1 + cmplx.Abs(p))
			switch e.Kind {
			case Resistor:
				if real(p) < 0 || math.Abs(imag(p)) > slack {
					t.Errorf("seed %d: resistor %s takes %v", seed, e.Name, p)
				}
			case Capacitor, Inductor:
				if math.Abs(real(p)) > slack || (e.Kind == Inductor) != (imag(p) >= 0) && p != 0 {
					t.Errorf("seed %d: %s %s takes %v", seed, e.Kind, e.Name, p)
				}
			}
		}
		if cmplx.Abs(sum) > 1e-9*(1+most) {
			t.Errorf("seed %d: powers sum to %v, the largest is %g", seed, sum, most)
		}
	}
}

// Where the update gives up the net is solved anew: the only tie of a body
// taken away, a branch between bonds, a short across a source.
func TestFullWhereTheUpdateGivesUp(t *testing.T) {
	n := new(Net)
	n.Voltage("hot", "hot", "0", 120, 0)
	n.Resistor("load", "hot", "0", 12)
	n.Resistor("tie", "hot", "body", 1e9)
	n.Resistor("bond", "body", "frame", 0.001)
	s := solved(t, n, 60)
	p := s.Pair(n.Node("body"), n.Node("hot"))
	if v, ok, err := p.Full(-1e-9, n.Node("frame"), Earth); ok || err != nil {
		t.Errorf("a body tied to nothing reads %v, %v", v, err)
	}
	if v, ok, err := p.Full(-1e-9, n.Node("frame"), n.Node("body")); !ok || err != nil || v != 0 {
		t.Errorf("within a body tied to nothing: %v, %v, %v", v, ok, err)
	}
	if v, ok, err := p.Full(-0.5e-9, n.Node("frame"), Earth); !ok || err != nil || cmplx.Abs(v-120) > 1e-6 {
		t.Errorf("a fainter tie: %v, %v, %v", v, ok, err)
	}
	if v, ok, err := s.Pair(n.Node("hot"), Earth).Full(cmplx.Inf(), n.Node("frame"), Earth); err == nil {
		t.Errorf("an exact source shorted reads %v, %v", v, ok)
	}
	r := rand.New(rand.NewPCG(3, 3))
	for seed := range uint64(60) { // any branch of any net taken away
		n := random(seed, 14)
		s := solved(t, n, 60)
		i := r.IntN(len(n.Elements()))
		e := n.Elements()[i]
		if e.Kind != Resistor && e.Kind != Capacitor && e.Kind != Inductor || e.Value == 0 {
			continue
		}
		edited := n.Clone()
		edited.elements[i].Open = true
		anew := solved(t, edited, 60)
		p := s.Pair(e.A, e.B)
		for m := range Node(n.Nodes()) {
			got, ok, err := p.Full(-s.y[i], m, 5)
			want, defined := anew.Voltage(m, 5)
			if err != nil || ok != defined || cmplx.Abs(got-want) > 1e-7*(1+cmplx.Abs(want)) {
				t.Fatalf("seed %d without %s: node %d is %v, %v, %v; solved anew %v, %v", seed, e.Name, m, got, ok, err, want, defined)
			}
		}
	}
}

// What a solver gives depends on the present values alone, to the last bit.
func TestNoMemoryOfEarlierValues(t *testing.T) {
	n := random(5, 24)
	s, fresh := solved(t, n, 60), solved(t, n, 60)
	for _, ohms := range []float64{1e-9, 1e12, 40} {
		must.Do(t, errors.Join(s.SetValueAt(s.place(t, "r6"), ohms), s.SetValueAt(s.place(t, "choke"), 1e-9*ohms)))
		if err := s.Factor(); err != nil && !errors.Is(err, ErrConditioned) {
			t.Fatal(err)
		}
	}
	for _, name := range []string{"r6", "choke"} {
		i, _ := s.Index(name)
		must.Do(t, s.SetValueAt(i, n.Elements()[i].Value))
	}
	must.Do(t, s.Factor())
	for i := range s.x {
		if s.x[i] != fresh.x[i] {
			t.Fatalf("unknown %d is %v after other values, %v before", i, s.x[i], fresh.x[i])
		}
	}
}

// 5,000 nodes in a ladder are solved, within 1e-9 of its input by conservation.
func TestLongLadder(t *testing.T) {
	n := new(Net)
	ladder(n, 5000)
	s := solved(t, n, 60)
	sum := complex128(0)
	for i := range n.Elements() {
		p, _ := s.PowerAt(i)
		sum += p
	}
	given, _ := s.PowerAt(s.place(t, "source"))
	if cmplx.Abs(sum) > 1e-9*cmplx.Abs(given) {
		t.Errorf("the ladder's powers sum to %v of %v", sum, given)
	}
}

// A source that floats on faint leaks and drives a large current round a meshed
// part of stout wires: its voltages are those of the loop, its middle is held
// by the leaks (exact arithmetic); and an ohmmeter within such a part sees the
// wires alone.
func TestLargeCurrentInAFloatingPart(t *testing.T) {
	for _, leak := range []float64{1 << 20, 1 << 30, 1 << 33, 1 << 36} {
		for _, load := range []float64{0.125, 4, 64} {
			n := new(Net)
			n.Voltage("generator", "a", "b", 120, 0.0625)
			n.Resistor("line1", "a", "c", 3.0/1024)
			n.Resistor("line2", "a", "d", 5.0/1024)
			n.Resistor("line3", "c", "d", 1.0/1024)
			n.Resistor("line4", "d", "e", 7.0/1024)
			n.Resistor("line5", "c", "e", 3.0/1024)
			n.Resistor("load", "e", "f", load)
			n.Resistor("back1", "f", "b", 3.0/1024)
			n.Resistor("back2", "f", "g", 3.0/1024)
			n.Resistor("back3", "g", "b", 5.0/1024)
			n.Resistor("leak1", "a", "0", leak)
			n.Resistor("leak2", "g", "0", 3*leak)
			want := exact(t, n, new(big.Rat))
			s := solved(t, n, 0)
			for m := 1; m < n.Nodes(); m++ {
				if got := s.at(Node(m)); cmplx.Abs(got-want[m]) > 1e-9 {
					t.Errorf("leak %g Ω, load %g Ω: node %s is %v, exactly %v", leak, load, n.Name(Node(m)), got, want[m])
				}
			}
			silent := n.Clone()
			silent.elements[0].Phasor = 0
			ohms, ok := solved(t, silent, 0).Pair(n.Node("a"), n.Node("c")).Impedance()
			alone := exact(t, shunt(n), new(big.Rat))[n.Node("c")]
			if !ok || cmplx.Abs(ohms-alone) > 1e-9*cmplx.Abs(alone) {
				t.Errorf("leak %g Ω, load %g Ω: %v Ω from a to c (%v), exactly %v", leak, load, ohms, ok, alone)
			}
		}
	}
}

// shunt is the net with its first source silent, a earthed, and one ampere into
// c, as a source of 2^60 V behind 2^60 Ω.
func shunt(n *Net) *Net {
	n = n.Clone()
	n.elements[0].Phasor = 0
	n.Resistor("jumper", "a", "0", 0)
	n.Voltage("ampere", "c", "0", 1<<60, 1<<60)
	return n
}

// A resistance of any size beside ordinary ones gives the divider's voltages or
// is refused; a number that rounding swallows never passes for another circuit.
func TestTinyResistanceIsRightOrRefused(t *testing.T) {
	refused := 0
	for exponent := 0.0; exponent >= -308; exponent -= 0.5 {
		ohms := math.Pow(10, exponent)
		n := new(Net)
		n.Voltage("source", "a", "0", 120, 0.02)
		n.Resistor("breaker", "a", "b", 0.005)
		n.Resistor("cord", "b", "c", ohms)
		n.Resistor("panel", "c", "d", 0.01)
		n.Resistor("load", "d", "0", 12)
		n.Resistor("leak", "c", "0", 1e8)
		s, err := Compile(n, 60)
		if err != nil {
			if !errors.Is(err, ErrConditioned) {
				t.Errorf("%g Ω is refused with %v", ohms, err)
			}
			refused++
			continue
		}
		beyond := 1 / (1/12.01 + 1/1e8)
		want := 120 * beyond / (beyond + 0.025 + ohms)
		if got, ok := s.Voltage(n.Node("c"), Earth); !ok || cmplx.Abs(got-complex(want, 0)) > 1e-6 {
			t.Errorf("%g Ω in series: %v V at the panel, want %g", ohms, got, want)
		}
	}
	if refused == 0 || refused > 600 {
		t.Errorf("%d of 617 sizes are refused", refused)
	}
}
