package circuit

import (
	"errors"
	"fmt"
	"math"
)

// MostUnknowns bounds the size of a net: its matrix is dense and would take
// 16 bytes for each pair of unknowns.
const MostUnknowns = 1500

// Solver is a net made ready for one frequency. It owns its memory: solving
// again allocates nothing. It must not be used by two goroutines at once.
type Solver struct {
	net    *Net
	omega  float64 // radians per second
	joined []int   // node -> supernode: nodes tied together by exact shorts
	island []int   // supernode -> island; 0 is earth's
	row    []int   // supernode -> row of the matrix; -1 for each island's reference
	extra  []int   // element -> row of its own current; -1 for most
	matrix *lu
	x      []complex128 // solution: voltages, then currents
}

// sets is a union-find over small whole numbers.
type sets []int

func newSets(n int) sets {
	s := make(sets, n)
	for i := range s {
		s[i] = i
	}
	return s
}

func (s sets) find(i int) int {
	for s[i] != i {
		s[i] = s[s[i]]
		i = s[i]
	}
	return i
}

// join reports whether the two were apart before. The lower one leads.
func (s sets) join(i, j int) bool {
	i, j = s.find(i), s.find(j)
	if i == j {
		return false
	}
	s[max(i, j)] = min(i, j)
	return true
}

// Compile makes a net ready for a frequency in hertz, 0 for direct current,
// and solves it. What connectivity shows to have no single solution is refused
// by it, with the element's name: a loop of ideal voltage sources, a current
// without a way back. An island without earth is solved by itself. The solver
// keeps a copy of the net: later edits do not reach it.
func Compile(n *Net, hertz float64) (*Solver, error) {
	if math.IsNaN(hertz) || math.IsInf(hertz, 0) || hertz < 0 {
		return nil, fmt.Errorf("%v is not a frequency", hertz)
	}
	var errs []error
	for i := range n.elements {
		if err := n.check(i); err != nil {
			errs = append(errs, err)
		} else if e := n.elements[i]; hertz == 0 && e.Kind == Transformer && !e.Open {
			errs = append(errs, fmt.Errorf("transformer %s passes no direct current; open it at 0 Hz", e.Name))
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	s := &Solver{net: n.Clone(), omega: 2 * math.Pi * hertz}
	s.join()
	if err := s.findIslands(); err != nil {
		return nil, err
	}
	size := s.number()
	if size > MostUnknowns {
		return nil, fmt.Errorf("the net has %d unknowns; at most %d are solved", size, MostUnknowns)
	}
	s.matrix, s.x = newLU(size), make([]complex128, size)
	return s, s.Factor()
}

// short reports whether an element is an exact short at this frequency.
func (s *Solver) short(e *Element) bool {
	return !e.Open && (e.Kind == Resistor && e.Value == 0 || e.Kind == Inductor && s.omega == 0)
}

// ideal reports whether an element has a current of its own among the unknowns.
func ideal(e *Element) bool {
	return !e.Open && (e.Kind == VoltageSource && e.Value == 0 || e.Kind == Transformer)
}

// join ties the nodes of exact shorts together.
func (s *Solver) join() {
	nodes := newSets(s.net.Nodes())
	for i := range s.net.elements {
		if e := &s.net.elements[i]; s.short(e) {
			nodes.join(int(e.A), int(e.B))
		}
	}
	s.joined = make([]int, len(nodes))
	for i := range nodes {
		s.joined[i] = nodes.find(i)
	}
}

func (s *Solver) findIslands() error {
	ways, loops := newSets(s.net.Nodes()), newSets(s.net.Nodes())
	for i := range s.net.elements {
		e := &s.net.elements[i]
		a, b := s.joined[e.A], s.joined[e.B]
		switch {
		case e.Open || e.Kind == CurrentSource || e.Kind == Capacitor && s.omega == 0:
			continue
		case e.Kind == Transformer:
			ways.join(s.joined[e.C], s.joined[e.D])
		case ideal(e) && a != b && !loops.join(a, b), ideal(e) && a == b && e.Phasor != 0:
			return fmt.Errorf("voltage source %s closes a loop of exact voltages; give it an internal resistance", e.Name)
		}
		ways.join(a, b)
	}
	for i := range s.net.elements {
		if e := &s.net.elements[i]; e.Kind == CurrentSource && !e.Open && e.Phasor != 0 && ways.find(s.joined[e.A]) != ways.find(s.joined[e.B]) {
			return fmt.Errorf("current source %s has no way back for its current", e.Name)
		}
	}
	s.island = make([]int, len(ways))
	for i := range ways {
		s.island[i] = ways.find(s.joined[i])
	}
	return nil
}

// number gives every unknown its row and returns how many there are.
func (s *Solver) number() int {
	s.row = make([]int, len(s.joined))
	next := 0
	for i, lead := range s.joined {
		switch {
		case lead != i, s.island[i] == i: // not a supernode, or its island's reference
			s.row[i] = -1
		default:
			s.row[i] = next
			next++
		}
	}
	s.extra = make([]int, len(s.net.elements))
	for i := range s.net.elements {
		s.extra[i] = -1
		e := &s.net.elements[i]
		idle := s.joined[e.A] == s.joined[e.B] && (e.Kind != Transformer || s.joined[e.C] == s.joined[e.D])
		if ideal(e) && !idle {
			s.extra[i] = next
			next++
		}
	}
	return next
}

func (s *Solver) rowOf(n Node) int { return s.row[s.joined[n]] }

// admittance of a branch that has one.
func (s *Solver) admittance(e *Element) complex128 {
	switch {
	case e.Open:
		return 0
	case e.Kind == Capacitor:
		return complex(0, s.omega*e.Value)
	case e.Kind == Inductor && s.omega > 0:
		return complex(0, -1/(s.omega*e.Value))
	case (e.Kind == Resistor || e.Kind == VoltageSource) && e.Value > 0:
		return complex(1/e.Value, 0)
	}
	return 0
}
