package circuit

import (
	"errors"
	"fmt"
	"math"
)

// MostUnknowns bounds the size of a net. A net far below it is refused as well
// if its factors would take more than 50 MB, as a dense one's do from 1500
// unknowns on.
const MostUnknowns = 10_000

// Solver is a net made ready for one frequency. It owns its memory: solving
// again allocates nothing, unless a net of more than 64 unknowns is given
// values that need other pivots. Its results depend on the present values
// alone, not on those it had before. It must not be used by two goroutines at
// once.
type Solver struct {
	net    *Net
	omega  float64 // radians per second
	joined []int   // node -> supernode: nodes tied together by exact shorts
	island []int   // node -> island; 0 is Earth's
	row    []int32 // node -> row of the matrix; one past the last for a reference
	extra  []int32 // element -> row of its own current; -1 for most
	volts  int     // rows that are voltages; the rest are currents

	branches []branch
	ties     []tie
	drives   []int        // current sources
	y        []complex128 // element -> siemens, as factored

	matrix *matrix
	x      []complex128 // solution: voltages, then currents, then a reference's 0
	r, d   []complex128 // the residual of the solution, and its correction
	rest   []complex128 // what rounding took from r
	meter  Pair
	sets   [2]sets
	room   *Room // that all this is taken from
}

// branch is an element with an admittance between two supernodes.
type branch struct{ element, a, b, aa, ab, ba, bb int32 }

// tie is an element with an exact voltage between two supernodes.
type tie struct{ element, k, a, b, ak, bk, ka, kb int32 }

// sets is a union-find over small whole numbers.
type sets []int

func newSets(room *Room, n int) sets {
	s := sets(room.nodes.Take(n))
	s.reset()
	return s
}

func (s sets) reset() {
	for i := range s {
		s[i] = i
	}
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

func isFrequency(hertz float64) bool { return hertz >= 0 && !math.IsInf(hertz, 1) }

// Compile makes a net ready for a frequency in hertz, 0 for direct current,
// and solves it. What connectivity shows to have no single solution is refused
// by it, with the element's name: a loop of ideal voltage sources, a current
// without a way back. An island without earth is solved by itself. The solver
// keeps a copy of the net: later edits do not reach it.
func Compile(n *Net, hertz float64) (*Solver, error) {
	return compile(n.Clone(), hertz, nil, &Room{})
}

// compile takes the net over.
func compile(n *Net, hertz float64, plans *Plans, room *Room) (*Solver, error) {
	if !isFrequency(hertz) {
		return nil, fmt.Errorf("%v is not a frequency", hertz)
	}
	var errs []error
	for i := range n.elements {
		if err := n.check(i); err != nil {
			errs = append(errs, err)
		}
	}
	if len(errs) > 0 {
		return nil, errors.Join(errs...)
	}
	nodes := n.Nodes()
	s := &Solver{net: n, omega: 2 * math.Pi * hertz, room: room, sets: [2]sets{newSets(room, nodes), newSets(room, nodes)}}
	s.join()
	if err := s.findIslands(); err != nil {
		return nil, err
	}
	size := s.number()
	if size > MostUnknowns {
		return nil, fmt.Errorf("the net has %d unknowns; at most %d are solved", size, MostUnknowns)
	}
	s.sort()
	s.allocate(size + 1)
	if err := plans.of(s, size); err != nil {
		return nil, err
	}
	return s, s.Factor()
}

// short reports whether an element is an exact short at this frequency.
func (s *Solver) short(e *Element) bool {
	return !e.Open && (e.Kind == Resistor && e.Value == 0 || e.Kind == Inductor && s.omega == 0)
}

// ideal reports whether an element has a current of its own among the unknowns.
func (s *Solver) ideal(e *Element) bool {
	return !e.Open && e.Kind == VoltageSource && e.Value == 0 && (e.Henries == 0 || s.omega == 0)
}

// join ties the nodes of exact shorts together.
func (s *Solver) join() {
	nodes := s.sets[0]
	for i := range s.net.elements {
		if e := &s.net.elements[i]; s.short(e) {
			nodes.join(int(e.A), int(e.B))
		}
	}
	s.joined = s.room.nodes.Take(len(nodes))
	for i := range nodes {
		s.joined[i] = nodes.find(i)
	}
}

func (s *Solver) findIslands() error {
	ways, loops := s.sets[0], s.sets[1]
	ways.reset()
	loops.reset()
	for i := range s.net.elements {
		e := &s.net.elements[i]
		a, b := s.joined[e.A], s.joined[e.B]
		switch {
		case e.Open || e.Kind == CurrentSource || e.Kind == Capacitor && s.omega == 0:
			continue
		case s.ideal(e) && a != b && !loops.join(a, b), s.ideal(e) && a == b && e.Phasor != 0:
			return fmt.Errorf("voltage source %s closes a loop of exact voltages; give it an internal resistance", e.Name)
		}
		ways.join(a, b)
	}
	for i := range s.net.elements {
		if e := &s.net.elements[i]; e.Kind == CurrentSource && !e.Open && e.Phasor != 0 && ways.find(s.joined[e.A]) != ways.find(s.joined[e.B]) {
			return fmt.Errorf("current source %s has no way back for its current", e.Name)
		}
	}
	s.island = s.room.nodes.Take(len(ways))
	for i := range ways {
		s.island[i] = ways.find(s.joined[i])
	}
	return nil
}

// number gives every unknown its row and returns how many there are.
func (s *Solver) number() int {
	row := s.room.rows.Take(len(s.joined)) // of supernodes
	next := int32(0)
	for i, lead := range s.joined {
		row[i] = -1
		if lead == i && s.island[i] != i { // else no supernode, or its island's reference
			row[i] = next
			next++
		}
	}
	s.volts = int(next)
	s.extra = s.room.rows.Take(len(s.net.elements))
	for i := range s.net.elements {
		s.extra[i] = -1
		if e := &s.net.elements[i]; s.ideal(e) && s.joined[e.A] != s.joined[e.B] {
			s.extra[i] = next
			next++
		}
	}
	s.row = s.room.rows.Take(len(s.joined))
	for i, lead := range s.joined {
		s.row[i] = row[lead]
		if row[lead] < 0 {
			s.row[i] = next
		}
	}
	return int(next)
}

// sort sorts the elements by what the matrix needs of them.
func (s *Solver) sort() {
	s.branches = s.room.branches.Take(len(s.net.elements))[:0]
	for i := range s.net.elements {
		e := &s.net.elements[i]
		at, a, b := int32(i), s.row[e.A], s.row[e.B]
		switch k := s.extra[i]; {
		case e.Open:
		case e.Kind == CurrentSource:
			s.drives = append(s.drives, i)
		case k >= 0:
			s.ties = append(s.ties, tie{element: at, k: k, a: a, b: b})
		case a != b && s.admittance(e) != 0:
			s.branches = append(s.branches, branch{element: at, a: a, b: b})
		}
	}
}

// plan finds the order of elimination and makes the matrix.
func (s *Solver) plan(size int) error {
	g := newGraph(size)
	join := func(i, j int32) {
		if int(i) < size && int(j) < size {
			g.join(int(i), int(j))
		}
	}
	for _, t := range s.ties {
		join(t.k, t.a)
		join(t.k, t.b)
	}
	for _, b := range s.branches {
		join(b.a, b.b)
	}
	var err error
	if s.matrix, err = newMatrix(s.room, size, g); err != nil {
		return err
	}
	slot := s.matrix.slots()
	for i := range s.branches {
		b := &s.branches[i]
		b.aa, b.ab, b.ba, b.bb = slot(b.a, b.a), slot(b.a, b.b), slot(b.b, b.a), slot(b.b, b.b)
	}
	for i := range s.ties {
		t := &s.ties[i]
		t.ak, t.bk, t.ka, t.kb = slot(t.a, t.k), slot(t.b, t.k), slot(t.k, t.a), slot(t.k, t.b)
	}
	return s.order()
}

// allocate makes room for solving, with so many unknowns and one more.
func (s *Solver) allocate(size int) {
	room := s.room.numbers.Take(5*size + len(s.net.elements))
	for _, of := range []*[]complex128{&s.x, &s.r, &s.d, &s.rest, &s.meter.column} {
		*of, room = room[:size:size], room[size:]
	}
	s.y, s.meter.s = room, s
}

// order chooses the pivots from the structure, every branch being 1 S.
func (s *Solver) order() error {
	m := s.matrix
	for i := range s.y {
		s.y[i] = 1
	}
	s.stamp()
	at, err := m.search(&m.fixed)
	if err != nil {
		return err
	}
	for k := 0; at < 0 && k < m.n; k++ {
		if size(m.fixed.dx[k]) > 1e12 {
			at = int(m.order[k])
		}
	}
	if at >= 0 {
		return fmt.Errorf("the net has no single solution at %s", s.unknown(at))
	}
	return nil
}

// admittance of a branch that has one.
func (s *Solver) admittance(e *Element) complex128 {
	switch {
	case e.Open:
		return 0
	case e.Kind == Capacitor:
		return complex(0, s.omega*e.Value)
	case e.Kind == Inductor && s.omega > 0:
		return complex(0, -1/(s.omega*e.Value))
	case e.Kind == VoltageSource && e.Henries > 0 && s.omega > 0:
		return inverse(complex(e.Value, s.omega*e.Henries))
	case (e.Kind == Resistor || e.Kind == VoltageSource) && e.Value > 0:
		return complex(1/e.Value, 0)
	case e.Kind == admittance:
		return e.Phasor
	}
	return 0
}
