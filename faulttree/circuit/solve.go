package circuit

import (
	"errors"
	"fmt"
)

// Factor stamps the present values of the elements and factors the matrix,
// then solves. Call it after [Solver.SetValue]; it allocates nothing.
func (s *Solver) Factor() error {
	m := s.matrix
	m.clear()
	for i := range s.net.elements {
		e := &s.net.elements[i]
		a, b := s.rowOf(e.A), s.rowOf(e.B)
		if y := s.admittance(e); y != 0 {
			m.add(a, a, y)
			m.add(b, b, y)
			m.add(a, b, -y)
			m.add(b, a, -y)
		}
		k := s.extra[i]
		if k < 0 {
			continue
		}
		m.add(a, k, 1)
		m.add(b, k, -1)
		m.add(k, a, 1)
		m.add(k, b, -1)
		if e.Kind == Transformer {
			c, d, ratio := s.rowOf(e.C), s.rowOf(e.D), complex(e.Value, 0)
			m.add(c, k, -ratio)
			m.add(d, k, ratio)
			m.add(k, c, -ratio)
			m.add(k, d, ratio)
		}
	}
	if at := m.factor(); at >= 0 {
		return fmt.Errorf("the net has no single solution at %s", s.unknown(at))
	}
	s.Solve()
	return nil
}

// unknown names the unknown of a row.
func (s *Solver) unknown(row int) string {
	for i, r := range s.row {
		if r == row {
			return "node " + s.net.Name(Node(i))
		}
	}
	for i, r := range s.extra {
		if r == row {
			return s.net.elements[i].Kind.String() + " " + s.net.elements[i].Name
		}
	}
	return "an unknown"
}

// Solve finds the voltages for the present phasors of the sources, with the
// matrix as it was factored. It allocates nothing.
func (s *Solver) Solve() {
	clear(s.x)
	for i := range s.net.elements {
		e := &s.net.elements[i]
		if e.Open {
			continue
		}
		switch {
		case e.Kind == CurrentSource:
			s.inject(e.A, -e.Phasor)
			s.inject(e.B, e.Phasor)
		case e.Kind == VoltageSource && e.Value > 0:
			i := e.Phasor * s.admittance(e)
			s.inject(e.A, i)
			s.inject(e.B, -i)
		case s.extra[i] >= 0 && e.Kind == VoltageSource:
			s.x[s.extra[i]] = e.Phasor
		}
	}
	s.matrix.solve(s.x)
}

func (s *Solver) inject(n Node, amperes complex128) {
	if r := s.rowOf(n); r >= 0 {
		s.x[r] += amperes
	}
}

// at is a node's voltage against its island's reference.
func (s *Solver) at(n Node) complex128 {
	if r := s.rowOf(n); r >= 0 {
		return s.x[r]
	}
	return 0
}

// SameIsland reports whether a current can flow between two nodes.
func (s *Solver) SameIsland(a, b Node) bool { return s.island[a] == s.island[b] }

// Voltage is the voltage from a to b without a meter. It is undefined, and ok
// false, between islands that nothing ties together.
func (s *Solver) Voltage(a, b Node) (volts complex128, ok bool) {
	if !s.SameIsland(a, b) {
		return 0, false
	}
	return s.at(a) - s.at(b), true
}

// ErrStructure is what the setters of values can not do in place: the net must
// be edited and compiled again.
var ErrStructure = errors.New("a value of zero, or from zero, changes what is tied together: edit the net and compile it again")

// Index is the place of an element, for the setters and [Solver.CurrentAt]; ok
// is false where the net has no element of this name. An element keeps its
// place, and it is its place in [Net.Elements].
func (s *Solver) Index(name string) (i int, ok bool) {
	i, ok = s.net.byName[name]
	return i, ok
}

// SetValue is [Solver.SetValueAt] by name.
func (s *Solver) SetValue(name string, value float64) error {
	i, ok := s.Index(name)
	if !ok {
		return fmt.Errorf("the net has no element %q", name)
	}
	return s.SetValueAt(i, value)
}

// SetValueAt gives an element of the solver's own net another value in its
// unit. [Solver.Factor] puts it in force. A value that is not finite, or
// negative, is refused; zero, or from zero, is [ErrStructure]. It allocates
// nothing unless it refuses.
func (s *Solver) SetValueAt(i int, value float64) error {
	if err := s.there(i); err != nil {
		return err
	}
	e := &s.net.elements[i]
	if (value == 0) != (e.Value == 0) {
		return fmt.Errorf("%s %s: %w", e.Kind, e.Name, ErrStructure)
	}
	before := e.Value
	e.Value = value
	if err := s.net.check(i); err != nil {
		e.Value = before
		return err
	}
	return nil
}

// SetPhasorAt gives a source of the solver's own net another phasor, in volts
// or amperes. [Solver.Solve] puts it in force, and [Solver.Factor] too. A
// phasor that is not finite is refused; zero, or from zero, is [ErrStructure]
// where the source has no way round outside itself: an exact voltage across a
// short, a current between islands. It allocates nothing unless it refuses.
func (s *Solver) SetPhasorAt(i int, p complex128) error {
	if err := s.there(i); err != nil {
		return err
	}
	e := &s.net.elements[i]
	if (p == 0) != (e.Phasor == 0) && !e.Open &&
		(e.Kind == CurrentSource && !s.SameIsland(e.A, e.B) || e.Kind == VoltageSource && e.Value == 0 && s.joined[e.A] == s.joined[e.B]) {
		return fmt.Errorf("%s %s: %w", e.Kind, e.Name, ErrStructure)
	}
	before := e.Phasor
	e.Phasor = p
	if err := s.net.check(i); err != nil {
		e.Phasor = before
		return err
	}
	return nil
}

func (s *Solver) there(i int) error {
	if i < 0 || i >= len(s.net.elements) {
		return fmt.Errorf("the net has no element %d", i)
	}
	return nil
}

// Current is [Solver.CurrentAt] by name.
func (s *Solver) Current(name string) (amperes complex128, ok bool) {
	i, found := s.Index(name)
	if !found {
		return 0, false
	}
	return s.CurrentAt(i)
}

// CurrentAt is the current through an element from its first node to its
// second (for a transformer, of the first winding). It is not known, and ok
// false, for an exact short and for a place that no element has. It allocates
// nothing.
func (s *Solver) CurrentAt(i int) (amperes complex128, ok bool) {
	if s.there(i) != nil {
		return 0, false
	}
	e := &s.net.elements[i]
	across := s.at(e.A) - s.at(e.B)
	switch {
	case e.Open:
		return 0, true
	case s.short(e):
		return 0, false
	case e.Kind == CurrentSource:
		return e.Phasor, true
	case s.extra[i] >= 0:
		return s.x[s.extra[i]], true
	case ideal(e):
		return 0, false // both ends tied together
	case e.Kind == VoltageSource:
		return (across - e.Phasor) * s.admittance(e), true
	}
	return across * s.admittance(e), true
}
