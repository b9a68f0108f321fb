package circuit

import (
	"errors"
	"fmt"
	"math"
)

// ErrConditioned is a net whose solution cannot be known to a part in 10^9 of
// its highest voltage.
var ErrConditioned = errors.New("the values of the net lie too far apart to be solved, or resonate; take very low resistances as exact shorts, very high ones as open")

// mostSiemens bounds the admittance of an element: beyond it the rounding of
// one volt is an ampere, and a pivot can be all rounding without looking so.
const mostSiemens = 1e15

// Factor stamps the present values of the elements and factors the matrix,
// then solves. Call it after [Solver.SetValue]; it allocates nothing, but for the
// first time that the values ask for other pivots.
func (s *Solver) Factor() error {
	for i := range s.y {
		e := &s.net.elements[i]
		s.y[i] = s.admittance(e)
		if !(size(s.y[i]) <= mostSiemens) {
			return fmt.Errorf("%s %s: %w", e.Kind, e.Name, ErrConditioned)
		}
	}
	s.stamp()
	at, err := s.matrix.factor()
	if err != nil {
		return err
	}
	if at >= 0 {
		return s.conditioned(at)
	}
	return s.Solve()
}

// stamp writes the matrix.
func (s *Solver) stamp() {
	m := s.matrix
	m.clear()
	a := m.a
	for i := range s.branches {
		b := &s.branches[i]
		y := s.y[b.element]
		a[b.aa] += y
		a[b.bb] += y
		a[b.ab] -= y
		a[b.ba] -= y
	}
	for i := range s.ties {
		t := &s.ties[i]
		a[t.ak]++
		a[t.ka]++
		a[t.bk]--
		a[t.kb]--
	}
}

func (s *Solver) conditioned(row int) error {
	return fmt.Errorf("at %s: %w", s.unknown(row), ErrConditioned)
}

// unknown names the unknown of a row.
func (s *Solver) unknown(row int) string {
	for i, r := range s.row {
		if int(r) == row {
			return "node " + s.net.Name(Node(i))
		}
	}
	for i, r := range s.extra {
		if int(r) == row {
			return s.net.elements[i].Kind.String() + " " + s.net.elements[i].Name
		}
	}
	return "an unknown"
}

// Solve finds the voltages for the present phasors of the sources, with the
// matrix as it was factored. It allocates nothing.
func (s *Solver) Solve() error {
	if at := s.solveFor(s.x, true, Earth, Earth); at >= 0 {
		return s.conditioned(at)
	}
	return nil
}

// solveFor solves for x: what the sources drive, or one ampere into a node and
// out of another. It refines the solution by its residual, the current of
// each branch taken by itself, so that a faint leak beside a stout bond is not
// lost in their sum. Where that does not converge it chooses other pivots once.
// It returns the row that does not converge, or -1.
func (s *Solver) solveFor(x []complex128, sources bool, in, out Node) int {
	at := s.refine(x, sources, in, out)
	if at >= 0 && s.matrix.now == &s.matrix.fixed {
		if bad, err := s.matrix.pivot(); bad >= 0 || err != nil {
			return max(0, bad)
		}
		at = s.refine(x, sources, in, out)
	}
	return at
}

// refine adds corrections to x until they no longer change it, and returns the
// row that does not converge, or -1. The first one is what a single elimination was
// off; where that is next to nothing, a second one would be as much smaller again.
func (s *Solver) refine(x []complex128, sources bool, in, out Node) int {
	clear(x)
	before := 0.0
	at := 0
	for try := range 16 {
		s.inject(in, out)
		if try > 0 || sources {
			s.residual(x, sources)
		}
		if try == 0 && s.silent() {
			return -1
		}
		s.matrix.solve(s.r, s.d)
		most, change := 0.0, 0.0
		for i, d := range s.d[:s.matrix.n] {
			x[i] += d
			if i < s.volts {
				most = max(most, size(x[i]))
				if c := size(d); !(c <= change) {
					change, at = c, i
				}
			}
		}
		switch {
		case math.IsNaN(change) || math.IsInf(most, 0) || math.IsNaN(most):
			return at
		case try == 0:
			before = most
			continue
		case converged(try, most, change):
			return -1
		case change > before/4:
			if change <= 1e-9*most {
				return -1
			}
			return at
		}
		before = change
	}
	return at
}

// converged reports whether a correction, the first after the elimination itself or a later
// one, is the last that is needed.
func converged(try int, most, change float64) bool {
	return change <= 1e-11*most || try == 1 && change <= 1e-8*most
}

// residual turns r, the currents that are driven from outside, into the residual of x:
// the current that is left over at each node and the voltage at each tie. The current
// of a branch is rounded once, to leave one node and to reach the other alike, and the
// sums are kept exact: where a large current runs round a part that only faint leaks
// hold, nothing else keeps the rounding of the one out of the other.
func (s *Solver) residual(x []complex128, sources bool) {
	clear(s.rest)
	elements := s.net.elements
	for i := range s.branches {
		b := &s.branches[i]
		across := x[b.a] - x[b.b]
		if e := &elements[b.element]; sources && e.Kind == VoltageSource {
			across -= e.Phasor
		}
		if across == 0 {
			continue
		}
		current := times(across, s.y[b.element])
		s.add(b.a, -current)
		s.add(b.b, current)
	}
	for i := range s.ties {
		t := &s.ties[i]
		current, left := x[t.k], x[t.b]-x[t.a]
		s.add(t.a, -current)
		s.add(t.b, current)
		if sources {
			left += elements[t.element].Phasor
		}
		s.r[t.k] = left
	}
	if sources {
		for _, i := range s.drives {
			e := &elements[i]
			s.add(s.row[e.A], -e.Phasor)
			s.add(s.row[e.B], e.Phasor)
		}
	}
	for i, v := range s.rest {
		s.r[i] += v
	}
}

// inject fills r with the residual of nothing at all while one ampere flows into a node
// and out of another.
func (s *Solver) inject(in, out Node) {
	clear(s.r)
	if in != out {
		s.r[s.row[in]]++
		s.r[s.row[out]]--
	}
}

// silent reports whether nothing is left over anywhere: then nothing flows.
func (s *Solver) silent() bool {
	for _, r := range s.r[:s.matrix.n] {
		if r != 0 {
			return false
		}
	}
	return true
}

// add is a sum that keeps what rounding takes from it (Knuth's two-sum).
func (s *Solver) add(i int32, v complex128) {
	before := s.r[i]
	sum := before + v
	came := sum - before
	s.r[i] = sum
	s.rest[i] += (before - (sum - came)) + (v - came)
}

// times is a product that no processor fuses with a sum that follows.
func times(a, b complex128) complex128 {
	return complex(float64(real(a)*real(b))-float64(imag(a)*imag(b)), float64(real(a)*imag(b))+float64(imag(a)*real(b)))
}

// at is a node's voltage against its island's reference.
func (s *Solver) at(n Node) complex128 { return s.x[s.row[n]] }

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

// ErrStructure is what the setters of values cannot do in place: the net must
// be edited and compiled again.
var ErrStructure = errors.New("a value of zero, or from zero, changes what is tied together: edit the net and compile it again")

// Index is the place of an element, for the setters and [Solver.CurrentAt]; ok
// is false where the net has no element of this name. An element keeps its
// place, and it is its place in [Net.Elements].
func (s *Solver) Index(name string) (i int, ok bool) {
	i, ok = s.net.index()[name]
	return i, ok
}

// SetHertz changes the frequency. [Solver.Factor] puts it in force. What is none is
// refused; from direct current, or to it, is [ErrStructure].
func (s *Solver) SetHertz(hertz float64) error {
	switch {
	case !isFrequency(hertz):
		return fmt.Errorf("%v is not a frequency", hertz)
	case (hertz == 0) != (s.omega == 0):
		return fmt.Errorf("from or to direct current: %w", ErrStructure)
	}
	s.omega = 2 * math.Pi * hertz
	return nil
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
	reactive := e.Kind == VoltageSource && e.Henries > 0 && s.omega > 0
	if (value == 0) != (e.Value == 0) && !reactive {
		return fmt.Errorf("%s %s: %w", e.Kind, e.Name, ErrStructure)
	}
	if value == e.Value {
		return nil
	}
	before := e.Value
	if e.Value = value; value > 0 && value <= math.MaxFloat64 {
		return nil // all else was looked at before
	}
	if err := e.checkValues(); err != nil {
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
		(e.Kind == CurrentSource && !s.SameIsland(e.A, e.B) || s.ideal(e) && s.joined[e.A] == s.joined[e.B]) {
		return fmt.Errorf("%s %s: %w", e.Kind, e.Name, ErrStructure)
	}
	if p == e.Phasor {
		return nil
	}
	before := e.Phasor
	e.Phasor = p
	if err := e.checkValues(); err != nil {
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

// CurrentAt is the current through an element from its first node to its
// second. It is not known, and ok false, for an exact short and for a place
// that no element has. It allocates nothing.
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
	case s.ideal(e):
		return 0, false // both ends tied together
	case e.Kind == VoltageSource:
		return (across - e.Phasor) * s.y[i], true
	}
	return across * s.y[i], true
}
