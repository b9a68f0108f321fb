package circuit

import (
	"errors"
	"fmt"
	"math"
	"math/cmplx"
	"math/rand/v2"
	"os/exec"
	"strings"
	"testing"

	"faultwright/faulttree/must"
)

// ngspice runs a netlist in batch mode.
func ngspice(t *testing.T, netlist string) string {
	t.Helper()
	program, err := exec.LookPath("ngspice")
	if err != nil {
		t.Fatal("ngspice is missing; bash .ci/setup installs it")
	}
	run := exec.Command(program, "-b")
	run.Stdin = strings.NewReader(netlist)
	text, err := run.CombinedOutput()
	var exit *exec.ExitError
	if err != nil && !errors.As(err, &exit) {
		t.Fatal(err)
	}
	return string(text)
}

// operatingPoint is what .op shows: the voltages of all nodes, and what the
// .print lines ask for, in order.
func operatingPoint(t *testing.T, text string) (nodes map[string]float64, prints []float64) {
	t.Helper()
	nodes = map[string]float64{}
	inNodes, inPrint := false, false
	for line := range strings.Lines(text) {
		words := strings.Fields(line)
		var v float64
		switch {
		case len(words) == 0:
		case words[0] == "Node":
			inNodes = true
		case words[0] == "Source":
			inNodes = false
		case words[0] == "Index":
			inPrint = true
		case len(words) == 2 && (inNodes || inPrint):
			if n, _ := fmt.Sscan(words[1], &v); n != 1 {
				continue // the line under the heading
			}
			if inNodes {
				nodes[words[0]] = v
			} else {
				prints = append(prints, v)
			}
		}
	}
	return nodes, prints
}

// direct is a seeded net for 0 Hz: batteries, wires and leaks over nine
// decades, coils and capacitors, and a part that hangs on capacitors alone.
func direct(seed uint64, nodes int) *Net {
	r := rand.New(rand.NewPCG(seed, 21))
	n := new(Net)
	name := func(i int) string { return fmt.Sprintf("Row.p-%d", i) }
	value := func(low, high float64) float64 { return math.Exp(math.Log(low) + r.Float64()*math.Log(high/low)) }
	n.Voltage("battery", name(0), "0", 12.6, value(0.001, 0.1))
	n.Voltage("second", name(1), name(0), complex(12+r.Float64(), 0), 0)
	n.Add(Element{Name: "charger", Kind: VoltageSource, A: n.Node(name(2)), B: Earth, Phasor: 13.6, Value: 0.05, Henries: 1e-4})
	for i := 3; i < nodes; i++ {
		n.Resistor(fmt.Sprint("r", i), name(i), name(r.IntN(i)), value(1e-3, 1e6))
		n.Capacitor(fmt.Sprint("c", i), name(i), name(r.IntN(i)), value(1e-9, 1e-3))
	}
	n.Inductor("coil", name(nodes-1), name(nodes/2), 0.01)
	n.Resistor("tie", name(nodes-2), name(3), 0)
	n.Resistor("gone", name(nodes-2), "0", 1)
	n.elements[len(n.elements)-1].Open = true
	n.Current("draw", name(nodes-3), "0", complex(r.Float64(), 0))
	n.Capacitor("apart", name(4), "far", 1e-6)
	n.Voltage("cell", "far", "farther", 1.5, 0.1)
	n.Resistor("lamp", "far", "farther", 10)
	n.Resistor("meter", name(nodes-1), name(2), 10e6) // a caller's meter is an element like any other
	return n
}

// Direct current in ngspice: every node that .op prints and every .print op
// within what their figures can show.
func TestDirectCurrentAgainstSimulator(t *testing.T) {
	compared, worst := 0, 0.0
	for seed := range uint64(25) {
		n := direct(seed, 6+int(seed%12))
		s := solved(t, n, 0)
		pairs := []Print{{n.Node("Row.p-1"), n.Node("Row.p-3")}, {n.Node("Row.p-4"), Earth}}
		text := must.Have(Netlist("direct current", n, 0, pairs...))(t)
		if !strings.Contains(text, "\n.op\n") || !strings.Contains(text, "\n.print op v(Row_p_1,Row_p_3)\n") || strings.Contains(text, ".ac") {
			t.Fatalf("not an operating point:\n%s", text)
		}
		shown := ngspice(t, text)
		nodes, prints := operatingPoint(t, shown)
		for m := Node(1); int(m) < n.Nodes(); m++ {
			name := strings.ToLower((&netlist{net: n}).node(m))
			got, found := nodes[name]
			if !found {
				t.Fatalf("ngspice shows no %s:\n%s\n%s", name, text, shown)
			}
			want := real(s.at(m)) // a part without Earth is tied to 0 at its own reference
			off := math.Abs(got - want)
			compared, worst = compared+1, max(worst, off/(1+math.Abs(want)))
			digit := 1e-6 // ngspice shows seven digits, six of what is negative
			if want < 0 {
				digit = 1e-5
			}
			if off > 0.6*digit*math.Abs(want)+1e-9 {
				t.Errorf("seed %d: %s is %.9g V, in ngspice %.9g", seed, name, want, got)
			}
		}
		if len(prints) != len(pairs) {
			t.Fatalf("%d prints for %d:\n%s", len(prints), len(pairs), shown)
		}
		for i, p := range pairs {
			want, _ := s.Voltage(p.A, p.B)
			if math.Abs(prints[i]-real(want)) > 1e-5*(1+cmplx.Abs(want)) {
				t.Errorf("seed %d: print %d is %v, in ngspice %g", seed, i, want, prints[i])
			}
		}
	}
	t.Logf("%d nodes, worst %.2g relative", compared, worst)
}
