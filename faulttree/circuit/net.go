package circuit

import (
	"errors"
	"fmt"
	"maps"
	"math"
	"math/cmplx"
	"slices"
)

// Node is a place where elements meet. Earth, the zero value, is the
// reference, named "0".
type Node int

// Earth is the node all voltages of its island are measured against.
const Earth Node = 0

// Kind is what an element is.
type Kind uint8

const (
	Resistor      Kind = iota // Value in ohms; 0 is an exact short
	Capacitor                 // Value in farads; at 0 Hz an exact open
	Inductor                  // Value in henries; at 0 Hz an exact short
	VoltageSource             // Phasor in volts, plus at A, behind Value ohms and Henries
	CurrentSource             // Phasor in amperes, driven through itself from A to B
	admittance                // Phasor in siemens; only in nets that a Pair edits
)

func (k Kind) String() string {
	return [...]string{"resistor", "capacitor", "inductor", "voltage source", "current source", "admittance"}[k]
}

// Element is one branch of a net.
type Element struct {
	Name   string
	Kind   Kind
	A, B   Node
	Value  float64
	Phasor complex128
	// Henries is the inductance in series with a voltage source's Value.
	Henries float64
	Open    bool // removed: an exact open
}

// Net is a network. The zero value is an empty one; a copy made by [Net.Clone]
// can be edited without touching the first.
type Net struct {
	names    []string
	nodes    map[string]Node
	lent     bool // names and nodes are another net's
	elements []Element
	byName   map[string]int // once one was looked for
}

// Node is the node of this name; it is made at its first use. "0" is [Earth];
// every other name, "earth" too, is an ordinary node.
func (n *Net) Node(name string) Node {
	if n.nodes == nil {
		n.nodes = map[string]Node{"0": Earth}
		n.names = []string{"0"}
	}
	if at, ok := n.nodes[name]; ok {
		return at
	}
	if n.lent {
		n.names, n.nodes, n.lent = slices.Clone(n.names), maps.Clone(n.nodes), false
	}
	at := Node(len(n.names))
	n.nodes[name], n.names = at, append(n.names, name)
	return at
}

// Name is the name of a node.
func (n *Net) Name(at Node) string {
	if int(at) < len(n.names) {
		return n.names[at]
	}
	return "0"
}

// Nodes is how many nodes there are, Earth included.
func (n *Net) Nodes() int { return max(1, len(n.names)) }

// Elements lists the elements in the order they were added. The caller must
// not change them.
func (n *Net) Elements() []Element { return n.elements }

// Add appends an element. A second element of the same name is an error at
// [Compile].
func (n *Net) Add(e Element) { n.elements, n.byName = append(n.elements, e), nil }

// index is the first element of each name.
func (n *Net) index() map[string]int {
	if n.byName == nil {
		n.byName = make(map[string]int, len(n.elements))
		for i := range n.elements {
			if _, taken := n.byName[n.elements[i].Name]; !taken {
				n.byName[n.elements[i].Name] = i
			}
		}
	}
	return n.byName
}

// Resistor adds one between two named nodes, in ohms.
func (n *Net) Resistor(name, a, b string, ohms float64) {
	n.Add(Element{Name: name, Kind: Resistor, A: n.Node(a), B: n.Node(b), Value: ohms})
}

// Capacitor adds one between two named nodes, in farads.
func (n *Net) Capacitor(name, a, b string, farads float64) {
	n.Add(Element{Name: name, Kind: Capacitor, A: n.Node(a), B: n.Node(b), Value: farads})
}

// Inductor adds one between two named nodes, in henries.
func (n *Net) Inductor(name, a, b string, henries float64) {
	n.Add(Element{Name: name, Kind: Inductor, A: n.Node(a), B: n.Node(b), Value: henries})
}

// Voltage adds a source between two named nodes: volts behind ohms.
func (n *Net) Voltage(name, plus, minus string, volts complex128, ohms float64) {
	n.Add(Element{Name: name, Kind: VoltageSource, A: n.Node(plus), B: n.Node(minus), Phasor: volts, Value: ohms})
}

// Current adds a source that drives amperes from one named node to another.
func (n *Net) Current(name, from, to string, amperes complex128) {
	n.Add(Element{Name: name, Kind: CurrentSource, A: n.Node(from), B: n.Node(to), Phasor: amperes})
}

// Clone is a copy that can be edited by itself.
func (n *Net) Clone() *Net {
	return &Net{names: slices.Clone(n.names), elements: slices.Clone(n.elements), nodes: maps.Clone(n.nodes)}
}

// Bare is a net of the same nodes without elements. It shares what they are called with n,
// which must get no other node after that.
func (n *Net) Bare() *Net { return &Net{names: n.names, nodes: n.nodes, lent: true} }

// Grow makes room for so many more elements.
func (n *Net) Grow(room *Room, elements int) {
	n.elements = append(room.elements.Take(len(n.elements) + elements)[:0], n.elements...)
}

// checkNames refuses a second element of the same name.
func (n *Net) checkNames() error {
	var errs []error
	known := n.index()
	for i := range n.elements {
		if e := &n.elements[i]; known[e.Name] != i {
			errs = append(errs, e.bad("another element has the same name"))
		}
	}
	return errors.Join(errs...)
}

// check says what is wrong with an element by itself.
func (n *Net) check(i int) error {
	e := &n.elements[i]
	switch {
	case e.A < 0 || e.B < 0 || int(max(e.A, e.B)) >= n.Nodes():
		return e.bad("it is tied to a node that is not there")
	}
	return e.checkValues()
}

func (e *Element) bad(what string) error { return fmt.Errorf("%s %s: %s", e.Kind, e.Name, what) }

// checkValues refuses values that no element of the kind can have.
func (e *Element) checkValues() error {
	switch {
	case math.IsNaN(e.Value) || math.IsInf(e.Value, 0) || math.IsNaN(e.Henries) || math.IsInf(e.Henries, 0) || cmplx.IsNaN(e.Phasor) || cmplx.IsInf(e.Phasor):
		return e.bad("its value is not a finite number")
	case e.Value < 0, e.Henries < 0:
		return e.bad("its value is negative")
	case e.Henries != 0 && e.Kind != VoltageSource:
		return e.bad("only a voltage source has an inductance beside its value")
	case e.Value == 0 && (e.Kind == Capacitor || e.Kind == Inductor):
		return e.bad("its value is zero")
	}
	return nil
}

// Metal is what a conductor is made of.
type Metal struct {
	OhmMetres float64 // resistivity at 20 °C
	PerKelvin float64 // change of resistance for each kelvin, at 20 °C
}

// Copper is annealed copper of 100 % conductivity: 1.7241e-8 Ω·m and 0.00393/K
// at 20 °C (NBS Handbook 100, from memory, not verified; it reproduces the
// published wire table of the tests).
func Copper() Metal { return Metal{1.7241e-8, 0.00393} }

// GaugeMetres is the diameter of an American wire gauge in metres; 1/0 is 0,
// 2/0 is -1: d = 0.127 mm × 92^((36-n)/39) (ASTM B258, from memory, not
// verified; it gives every published diameter of the tests).
func GaugeMetres(gauge float64) float64 {
	return 0.127e-3 * math.Pow(92, (36-gauge)/39)
}

// Ohms is the resistance of a round conductor of a length and a diameter in
// metres at a temperature in degrees Celsius: R = ρ l / A × (1 + α (t - 20)).
func (m Metal) Ohms(length, diameter, celsius float64) float64 {
	area := math.Pi * diameter * diameter / 4
	return m.OhmMetres * length / area * (1 + m.PerKelvin*(celsius-20))
}
