package circuit

import (
	"cmp"
	"fmt"
	"math"
	"math/cmplx"
	"slices"
	"strings"
)

// Print is a voltage that a netlist asks for.
type Print struct{ A, B Node }

// Netlist writes the net in plain SPICE, for a general-purpose simulator to
// solve: one .ac analysis at the frequency, or .op at 0 Hz, and one .print for
// each pair. Node 0 is [Earth]; a dot in a node's name becomes an underscore. An
// island without earth is tied to 0 by 1 GΩ at one node, so that the simulator
// can solve it.
func Netlist(title string, n *Net, hertz float64, prints ...Print) (string, error) {
	s, err := Compile(n, hertz)
	if err != nil {
		return "", err
	}
	w := netlist{net: n}
	if err := w.namesClash(); err != nil {
		return "", err
	}
	w.line("* %s", strings.ReplaceAll(title, "\n", " "))
	for i := range n.elements {
		w.element(i, hertz)
	}
	for i := range s.island {
		if s.island[i] == i && i != 0 && s.joined[i] == i && w.used(Node(i)) {
			w.line("Rtie%d %s 0 1e9", i, w.node(Node(i)))
		}
	}
	if hertz == 0 {
		w.line(".op")
	} else {
		w.line(".ac lin 1 %.12g %.12g", hertz, hertz)
	}
	for _, p := range prints {
		a, b := w.node(p.A), w.node(p.B)
		if hertz == 0 {
			w.line(".print op v(%s,%s)", a, b)
		} else {
			w.line(".print ac vm(%s,%s) vp(%s,%s)", a, b, a, b)
		}
	}
	w.line(".end")
	return w.text.String(), nil
}

type netlist struct {
	net  *Net
	text strings.Builder
}

func (w *netlist) line(format string, args ...any) { fmt.Fprintf(&w.text, format+"\n", args...) }

func (w *netlist) node(n Node) string {
	if n == Earth {
		return "0"
	}
	return strings.NewReplacer(".", "_", "-", "_", " ", "_").Replace(w.net.Name(n))
}

// namesClash refuses names that the simulator would take for the same node, or
// for one of the netlist's own; it knows no upper case.
func (w *netlist) namesClash() error {
	taken := map[string]string{"0": "by the reference", "gnd": "by the reference"}
	for i := 1; i < w.net.Nodes(); i++ {
		name := w.net.Name(Node(i))
		written := strings.ToLower(w.node(Node(i)))
		if other, ok := taken[written]; ok || strings.HasPrefix(written, inside) {
			return fmt.Errorf("node %q would be written as %s, which is taken %s", name, written, cmp.Or(other, "by the netlist itself"))
		}
		taken[written] = "by node " + name
	}
	return nil
}

// inside begins the names of nodes that only the netlist has.
const inside = "inside_"

func (w *netlist) used(n Node) bool {
	return slices.ContainsFunc(w.net.elements, func(e Element) bool { return !e.Open && (e.A == n || e.B == n) })
}

func (w *netlist) element(i int, hertz float64) {
	e := w.net.elements[i]
	if e.Open {
		return
	}
	a, b := w.node(e.A), w.node(e.B)
	phasor := fmt.Sprintf("DC %.15g AC %.15g %.15g", real(e.Phasor), cmplx.Abs(e.Phasor), cmplx.Phase(e.Phasor)*180/math.Pi)
	switch e.Kind {
	case Resistor:
		if e.Value == 0 {
			w.line("V%d %s %s 0", i, a, b)
			return
		}
		w.line("R%d %s %s %.15g", i, a, b, e.Value)
	case Capacitor:
		w.line("C%d %s %s %.15g", i, a, b, e.Value)
	case Inductor:
		w.line("L%d %s %s %.15g", i, a, b, e.Value)
	case VoltageSource:
		if e.Henries > 0 {
			w.line("L%d %s "+inside+"%d_l %.15g", i, a, i, e.Henries)
			a = fmt.Sprintf(inside+"%d_l", i)
		}
		if e.Value > 0 {
			w.line("R%d %s "+inside+"%d %.15g", i, a, i, e.Value)
			a = fmt.Sprintf(inside+"%d", i)
		}
		w.line("V%d %s %s %s", i, a, b, phasor)
	case CurrentSource:
		w.line("I%d %s %s %s", i, a, b, phasor)
	}
}
