package circuit

import (
	"errors"
	"flag"
	"fmt"
	"math"
	"math/big"
	"math/cmplx"
	"math/rand/v2"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// random is a seeded net of about the given nodes: resistors over seven
// decades, capacitors, inductors, sources, and a second island that may be tied on.
func random(seed uint64, nodes int) *Net {
	r := rand.New(rand.NewPCG(seed, 7))
	n := new(Net)
	name := func(i int) string { return fmt.Sprintf("p.%d", i) }
	n.Voltage("leg1", name(0), "0", 120, 0.05)
	n.Voltage("leg2", name(1), "0", cmplx.Rect(120, 2*math.Pi*float64(1+r.IntN(5))/6), 0)
	value := func(low, high float64) float64 { return math.Exp(math.Log(low) + r.Float64()*math.Log(high/low)) }
	for i := 2; i < nodes; i++ {
		n.Resistor(fmt.Sprintf("r%d", i), name(i), name(r.IntN(i)), value(0.01, 1e5))
	}
	for i := range nodes / 2 {
		n.Resistor(fmt.Sprintf("x%d", i), name(r.IntN(nodes)), name(r.IntN(nodes)), value(0.1, 1e4))
		n.Capacitor(fmt.Sprintf("c%d", i), name(r.IntN(nodes)), "0", value(1e-9, 1e-6))
	}
	n.Inductor("choke", name(nodes-1), name(nodes/2), value(1e-3, 1))
	n.Voltage("pole", "s1", "s2", complex(float64(60*(1+r.IntN(4))), 0), 0.5)
	n.Resistor("load", "s1", "s2", value(1, 100))
	if r.IntN(2) == 0 {
		n.Resistor("tie", "s2", name(4), 0)
	}
	n.Current("draw", name(5), "0", complex(r.Float64(), r.Float64()))
	return n
}

// A change of one branch, by update and by a full solution of the edited net,
// agree for every pair of nodes.
func TestUpdateAgreesWithAFullSolution(t *testing.T) {
	for seed := range uint64(60) {
		n := random(seed, 14)
		s := solved(t, n, 60)
		r := rand.New(rand.NewPCG(seed, 9))
		a, b := Node(1+r.IntN(14)), Node(1+r.IntN(14))
		if a == b {
			continue
		}
		pair := s.Pair(a, b)
		for _, ohms := range []float64{0, 0.001, 1, 100, 1e4, 1e7} {
			edited := n.Clone()
			edited.Add(Element{Name: "fault", Kind: Resistor, A: a, B: b, Value: ohms})
			full, err := Compile(edited, 60)
			if err != nil {
				if ohms == 0 { // a short of an exact source is refused
					continue
				}
				t.Fatal(err)
			}
			for m := range Node(n.Nodes()) {
				want, defined := full.Voltage(m, 3)
				got, ok := pair.With(complex(1/ohms, 0), m, 3)
				if ohms == 0 {
					got, ok = pair.Shorted(m, 3)
				}
				if ok != defined || ok && cmplx.Abs(got-want) > 1e-7*(1+cmplx.Abs(want)) {
					t.Fatalf("seed %d, %g Ω from %d to %d: node %d is %v by update, %v in full (%v, %v)", seed, ohms, a, b, m, got, want, ok, defined)
				}
			}
		}
	}
}

func TestNothingIsAllocated(t *testing.T) {
	n := random(3, 20)
	s := solved(t, n, 60)
	pair := s.Pair(4, 9)
	at, _ := s.Index("r7")
	if a := testing.AllocsPerRun(50, func() {
		must.Do(t, s.SetValueAt(s.place(t, "r5"), 12))
		must.Do(t, errors.Join(s.SetValueAt(at, 13), s.SetPhasorAt(0, 121)))
		s.CurrentAt(at)
		must.Do(t, s.Factor())
		s.Solve()
		pair.With(0.5, 3, 6)
	}); a != 0 {
		t.Errorf("%v allocations in a solve and an update", a)
	}
}

// exact solves a net of resistors, capacitors and sources behind resistance by
// elimination over complex rationals. Frequencies are chosen so that ω is the
// rational number given.
func exact(t *testing.T, n *Net, omega *big.Rat) []complex128 {
	t.Helper()
	size := n.Nodes() - 1
	m := make([][]ratio, size)
	for i := range m {
		m[i] = make([]ratio, size+1)
		for j := range m[i] {
			m[i][j] = ratio{new(big.Rat), new(big.Rat)}
		}
	}
	add := func(i, j int, v ratio) {
		if i > 0 && j > 0 {
			m[i-1][j-1] = m[i-1][j-1].plus(v)
		}
	}
	var shorts []Element
	for _, e := range n.Elements() {
		if e.Open {
			continue
		}
		if e.Kind == Resistor && e.Value == 0 {
			shorts = append(shorts, e)
			continue
		}
		value := new(big.Rat).SetFloat64(e.Value)
		y := ratio{new(big.Rat), new(big.Rat)}
		if e.Kind == Capacitor {
			y.im.Mul(omega, value)
		} else {
			y.re.Inv(value)
		}
		a, b := int(e.A), int(e.B)
		add(a, a, y)
		add(b, b, y)
		add(a, b, y.negative())
		add(b, a, y.negative())
		if e.Kind == VoltageSource {
			i := y.times(ratio{new(big.Rat).SetFloat64(real(e.Phasor)), new(big.Rat).SetFloat64(imag(e.Phasor))})
			if a > 0 {
				m[a-1][size] = m[a-1][size].plus(i)
			}
			if b > 0 {
				m[b-1][size] = m[b-1][size].plus(i.negative())
			}
		}
	}
	for _, e := range shorts { // at most one, or apart from each other
		a, b := int(e.A), int(e.B)
		if b == 0 {
			a, b = b, a
		}
		for j := range m[b-1] {
			if a > 0 {
				m[a-1][j] = m[a-1][j].plus(m[b-1][j])
			}
			m[b-1][j] = ratio{new(big.Rat), new(big.Rat)}
		}
		one := ratio{big.NewRat(1, 1), new(big.Rat)}
		add(b, b, one)
		add(b, a, one.negative())
	}
	for k := range m {
		p := k
		for p < size && m[p][k].zero() {
			p++
		}
		if p == size {
			t.Fatal("the exact net is singular")
		}
		m[k], m[p] = m[p], m[k]
		inverse := m[k][k].inverse()
		for i := k + 1; i < size; i++ {
			if m[i][k].zero() {
				continue
			}
			f := m[i][k].times(inverse).negative()
			for j := k + 1; j <= size; j++ {
				if !m[k][j].zero() {
					m[i][j] = m[i][j].plus(f.times(m[k][j]))
				}
			}
		}
	}
	out := make([]complex128, size+1)
	for k := size - 1; k >= 0; k-- {
		v := m[k][size].times(m[k][k].inverse())
		m[k][size] = v
		for i := range k {
			m[i][size] = m[i][size].plus(v.times(m[i][k]).negative())
		}
		out[k+1] = v.float()
	}
	return out
}

// ratio is a complex number with rational parts.
type ratio struct{ re, im *big.Rat }

func (a ratio) plus(b ratio) ratio {
	return ratio{new(big.Rat).Add(a.re, b.re), new(big.Rat).Add(a.im, b.im)}
}
func (a ratio) negative() ratio { return ratio{new(big.Rat).Neg(a.re), new(big.Rat).Neg(a.im)} }
func (a ratio) zero() bool      { return a.re.Sign() == 0 && a.im.Sign() == 0 }
func (a ratio) times(b ratio) ratio {
	mul := func(x, y *big.Rat) *big.Rat { return new(big.Rat).Mul(x, y) }
	return ratio{mul(a.re, b.re).Sub(mul(a.re, b.re), mul(a.im, b.im)), mul(a.re, b.im).Add(mul(a.re, b.im), mul(a.im, b.re))}
}
func (a ratio) inverse() ratio {
	norm := new(big.Rat).Add(new(big.Rat).Mul(a.re, a.re), new(big.Rat).Mul(a.im, a.im))
	norm.Inv(norm)
	return ratio{new(big.Rat).Mul(a.re, norm), new(big.Rat).Neg(new(big.Rat).Mul(a.im, norm))}
}
func (a ratio) float() complex128 {
	re, _ := a.re.Float64()
	im, _ := a.im.Float64()
	return complex(re, im)
}

var full = flag.Bool("full", false, "compare every single fault with exact arithmetic, not a tenth of them")

// Every kind of single edit (open, short, four times, a quarter, a leak more)
// on a 20-node net, by update and solved anew, against exact rational
// arithmetic at 0 Hz and near 60 Hz (ω = 377 exactly): within 1e-9 V. A seeded
// tenth of them runs by default.
func TestSingleFaultsAgainstExactArithmetic(t *testing.T) {
	r := rand.New(rand.NewPCG(11, 2))
	n := new(Net)
	name := func(i int) string { return fmt.Sprint("p", i) }
	n.Voltage("leg1", name(0), "0", 120, 0.0625)
	n.Voltage("leg2", name(1), "0", -120, 0.0625)
	for i := 2; i < 19; i++ {
		n.Resistor(fmt.Sprint("r", i), name(i), name(r.IntN(i)), float64(1+r.IntN(4000))/16)
		n.Resistor(fmt.Sprint("leak", i), name(i), "0", float64(1+r.IntN(4000))*64)
		n.Capacitor(fmt.Sprint("c", i), name(i), name(r.IntN(i)), float64(1+r.IntN(64))/(1<<26))
	}
	worst, cases := 0.0, 0
	for _, omega := range []int64{0, 377} {
		s := solved(t, n, float64(omega)/(2*math.Pi))
		compare := func(what string, edited *Net, p *Pair, y complex128) {
			if cases++; !*full && r.IntN(10) != 0 {
				return
			}
			want, anew := exact(t, edited, big.NewRat(omega, 1)), solved(t, edited, s.omega/(2*math.Pi))
			for m := 1; m < n.Nodes(); m++ {
				update, ok, err := p.Full(y, Node(m), Earth)
				again, defined := anew.Voltage(Node(m), Earth)
				off := max(cmplx.Abs(update-want[m]), cmplx.Abs(again-want[m]))
				worst = max(worst, off)
				if err != nil || !ok || !defined || off > 1e-9 {
					t.Fatalf("ω %d, %s: node %d is %v by update, %v anew, exactly %v (%v, %v, %v)", omega, what, m, update, again, want[m], ok, defined, err)
				}
			}
		}
		for i, e := range n.Elements() {
			if e.Kind == VoltageSource || e.Kind == Capacitor && omega == 0 {
				continue
			}
			pair, y := s.Pair(e.A, e.B), s.y[i]
			for _, edit := range []struct {
				kind   string
				y      complex128
				change func(*Element)
			}{
				{"open", -y, func(e *Element) { e.Open = true }},
				{"short", cmplx.Inf(), func(e *Element) { e.Kind, e.Value = Resistor, 0 }},
				{"four times the ohms", -0.75 * y, func(e *Element) { e.Value *= map[Kind]float64{Resistor: 4, Capacitor: 0.25}[e.Kind] }},
				{"a quarter of the ohms", 3 * y, func(e *Element) { e.Value *= map[Kind]float64{Resistor: 0.25, Capacitor: 4}[e.Kind] }},
			} {
				edited := n.Clone()
				edit.change(&edited.elements[i])
				compare(e.Name+" "+edit.kind, edited, pair, edit.y)
			}
		}
		for m := 1; m < n.Nodes(); m++ {
			edited := n.Clone()
			edited.Add(Element{Name: "leak", A: Node(m), B: Earth, Value: 16384})
			compare("leak at "+n.Name(Node(m)), edited, s.Pair(Node(m), Earth), 1.0/16384)
		}
	}
	t.Logf("%d edits, worst %.2g V", cases, worst)
}

// The same nets in ngspice, a general-purpose simulator: magnitudes within
// 1e-5 and phases within 1e-3 degrees.
func TestAgainstSimulator(t *testing.T) {
	worst, phase := 0.0, 0.0
	for seed := range uint64(12) {
		n := random(seed, 12)
		n.Add(Element{Name: "generator", Kind: VoltageSource, A: n.Node("p.6"), B: Earth, Phasor: cmplx.Rect(118, 0.3), Value: 0.1 * float64(seed%2), Henries: 2e-4})
		s := solved(t, n, 60)
		var prints []Print
		var wants []complex128
		for m := Node(1); int(m) < n.Nodes(); m++ {
			if want, ok := s.Voltage(m, n.Node("p.3")); ok && cmplx.Abs(want) > 1e-3 {
				prints, wants = append(prints, Print{m, n.Node("p.3")}), append(wants, want)
			}
		}
		text := must.Have(Netlist("a seeded net", n, 60, prints...))(t)
		for i, got := range simulate(t, text, len(prints)) {
			worst = max(worst, math.Abs(cmplx.Abs(got)-cmplx.Abs(wants[i]))/cmplx.Abs(wants[i]))
			phase = max(phase, math.Abs(cmplx.Phase(got/wants[i]))*180/math.Pi)
		}
	}
	t.Logf("worst magnitude %.2g relative, worst phase %.2g degrees", worst, phase)
	if worst > 1e-5 || phase > 1e-3 {
		t.Errorf("worst magnitude %.2g relative, worst phase %.2g degrees", worst, phase)
	}
}

// simulate runs a netlist and returns what its .print lines show, in order.
func simulate(t *testing.T, netlist string, prints int) []complex128 {
	t.Helper()
	text := ngspice(t, netlist)
	var out []complex128
	for _, line := range strings.Split(text, "\n") {
		var index int
		var hertz, magnitude, phase float64
		if n, _ := fmt.Sscan(line, &index, &hertz, &magnitude, &phase); n == 4 {
			out = append(out, cmplx.Rect(magnitude, phase))
		}
	}
	if len(out) != prints {
		t.Fatalf("%d results for %d prints:\n%s\n%s", len(out), prints, netlist, text)
	}
	return out
}

func BenchmarkUpdate(b *testing.B) {
	s := solved(b, random(1, 18), 60)
	pair := s.Pair(3, 8)
	y := complex(0.5, 0)
	for b.Loop() {
		if _, ok := pair.With(y, 4, 9); !ok {
			b.Fatal("ill conditioned")
		}
	}
}
