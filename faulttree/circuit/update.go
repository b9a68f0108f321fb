package circuit

import (
	"fmt"
	"math"
)

// Pair is a terminal pair of a solved net, for what one more branch across it
// would change: the Sherman-Morrison formula on the factored matrix. It holds
// for the solution it was made from.
type Pair struct {
	s       *Solver
	a, b    Node
	column  []complex128 // voltages for one ampere into a and out of b
	open    complex128   // volts from a to b as solved
	z       complex128   // ohms seen between a and b
	apart   bool         // a and b lie in different islands
	unknown bool         // the column could not be solved

	looked bool
	bridge bool // without those branches a and b would lie apart
	stiff  bool // exact voltages alone lead from a to b
}

// Pair looks into the net between two nodes. It allocates; the questions asked
// of it allocate nothing, [Pair.Full] excepted.
func (s *Solver) Pair(a, b Node) *Pair {
	p := &Pair{s: s, column: make([]complex128, len(s.x))}
	p.Look(a, b)
	return p
}

// Look turns to another pair of nodes, or to the same one after the net was
// solved again. It allocates nothing.
func (p *Pair) Look(a, b Node) {
	s := p.s
	if !s.SameIsland(a, b) {
		*p = Pair{s: s, a: a, b: b, column: p.column, apart: true}
		return
	}
	unknown := s.solveFor(p.column, false, a, b) >= 0
	p.looking(a, b)
	p.unknown = unknown
}

// looking is the pair that looks at two nodes of an island, its column being solved.
func (p *Pair) looking(a, b Node) {
	s := p.s
	*p = Pair{s: s, a: a, b: b, column: p.column, open: s.at(a) - s.at(b)}
	p.z = p.at(a) - p.at(b)
}

// look finds by connectivity what no pivot can tell: whether the branches
// right between a and b are the only tie, and whether exact voltages hold it.
func (p *Pair) look() {
	if p.looked {
		return
	}
	p.looked = true
	s := p.s
	ways, exact := s.sets[0], s.sets[1]
	ways.reset()
	exact.reset()
	from, to := s.joined[p.a], s.joined[p.b]
	for i := range s.net.elements {
		e := &s.net.elements[i]
		a, b := s.joined[e.A], s.joined[e.B]
		switch y := s.y[i]; {
		case e.Open || e.Kind == CurrentSource || a == b:
		case s.ideal(e):
			ways.join(a, b)
			exact.join(a, b)
		case y != 0 && !(a == from && b == to || a == to && b == from):
			ways.join(a, b)
		}
	}
	p.bridge = ways.find(from) != ways.find(to)
	p.stiff = exact.find(from) == exact.find(to)
}

// takesAway reports whether y cancels some of what lies between the pair.
func (p *Pair) takesAway(y complex128) bool {
	if real(y) < 0 {
		return true
	}
	return imag(y) != 0 && imag(y)*imag(p.direct()) < 0
}

// direct is the siemens of the branches that lie right between the pair.
func (p *Pair) direct() (sum complex128) {
	s := p.s
	from, to := s.row[p.a], s.row[p.b]
	for i := range s.branches {
		if b := &s.branches[i]; b.a == from && b.b == to || b.a == to && b.b == from {
			sum += s.y[b.element]
		}
	}
	return sum
}

func (p *Pair) at(n Node) complex128 { return p.column[p.s.row[n]] }

// Err is [ErrConditioned] where the net's values leave what the pair sees
// unknown: no question about it is answered then, except by [Pair.Full].
func (p *Pair) Err() error {
	if p.unknown {
		return fmt.Errorf("from %s to %s: %w", p.s.net.Name(p.a), p.s.net.Name(p.b), ErrConditioned)
	}
	return nil
}

// Impedance is what is seen between the two nodes, in ohms; ok is false
// between islands, and where [Pair.Err] says why.
func (p *Pair) Impedance() (ohms complex128, ok bool) { return p.z, !p.apart && !p.unknown }

// With is the voltage from m to n once a branch of the admittance y, in
// siemens, stands across the pair as well; -y takes one away. It is undefined
// between islands. ok is false too where the net must be edited and compiled
// again, as [Pair.Full] does: where y takes from the only tie of a part, and
// where much cancels.
func (p *Pair) With(y complex128, m, n Node) (volts complex128, ok bool) {
	if p.apart {
		return p.tied(m, n)
	}
	v, ok := p.s.Voltage(m, n)
	if !ok || p.unknown {
		return 0, false
	}
	least := 1e-5
	if p.takesAway(y) {
		least = 0.1
		if p.look(); p.bridge {
			return 0, false
		}
	}
	yz := y * p.z
	whole := 1 + yz
	if !(size(whole) >= least*max(1, size(yz))) {
		return 0, false
	}
	return v - (p.at(m)-p.at(n))*y*p.open/whole, true
}

// Full answers what [Pair.With] does, and solves a copy of the net anew where
// that gives up: it then allocates a solver, some twenty times the work. An
// admittance that takes away all that lies right between the pair leaves an
// exact open there; an infinite one is an exact short. ok is false only where
// the voltage is undefined; an error says why there is no solution.
func (p *Pair) Full(y complex128, m, n Node) (volts complex128, ok bool, err error) {
	endless := math.IsInf(real(y), 0) || math.IsInf(imag(y), 0)
	if endless {
		volts, ok = p.Shorted(m, n)
	} else {
		volts, ok = p.With(y, m, n)
	}
	if ok {
		return volts, true, nil
	}
	s := p.s
	if !p.apart && !s.SameIsland(m, n) {
		return 0, false, nil
	}
	edited := s.net.Clone()
	if endless {
		edited.Add(Element{Name: "\x00short", Kind: Resistor, A: p.a, B: p.b})
	} else {
		p.merge(edited, y)
	}
	anew, err := Compile(edited, s.omega/(2*math.Pi))
	if err != nil {
		return 0, false, fmt.Errorf("from %s to %s: %w", s.net.Name(p.a), s.net.Name(p.b), err)
	}
	volts, ok = anew.Voltage(m, n)
	return volts, ok, nil
}

// merge adds y to the sum of what lies right between the pair, so that what
// cancels is gone.
func (p *Pair) merge(edited *Net, y complex128) {
	s, sum := p.s, complex128(0)
	from, to := s.joined[p.a], s.joined[p.b]
	for i := range edited.elements {
		e := &edited.elements[i]
		a, b := s.joined[e.A], s.joined[e.B]
		between := a == from && b == to || a == to && b == from
		passive := e.Kind == Resistor || e.Kind == Capacitor || e.Kind == Inductor
		if between && passive && s.y[i] != 0 {
			sum += s.y[i]
			e.Open = true
		}
	}
	whole := sum + y
	if size(whole) <= 1e-12*size(sum) {
		return
	}
	edited.Add(Element{Name: "\x00branch", Kind: admittance, A: p.a, B: p.b, Phasor: whole})
}

// Shorted is the voltage from m to n with the pair exactly shorted. ok is
// false where exact voltages hold the pair: such a short has no solution, or
// one that only a compiled net tells.
func (p *Pair) Shorted(m, n Node) (volts complex128, ok bool) {
	if p.apart {
		return p.tied(m, n)
	}
	v, ok := p.s.Voltage(m, n)
	if !ok || p.s.joined[p.a] == p.s.joined[p.b] {
		return v, ok
	}
	if p.look(); p.stiff || p.unknown || size(p.z) == 0 {
		return 0, false
	}
	return v - (p.at(m)-p.at(n))*p.open/p.z, true
}

// tied is the voltage from m to n once two islands hang together at the pair
// alone: no current can flow there, so a and b come to the same voltage.
func (p *Pair) tied(m, n Node) (complex128, bool) {
	if p.s.SameIsland(m, n) {
		return p.s.Voltage(m, n)
	}
	va, vb := p.s.at(p.a), p.s.at(p.b)
	switch {
	case p.s.SameIsland(m, p.a) && p.s.SameIsland(n, p.b):
		return (p.s.at(m) - va) - (p.s.at(n) - vb), true
	case p.s.SameIsland(m, p.b) && p.s.SameIsland(n, p.a):
		return (p.s.at(m) - vb) - (p.s.at(n) - va), true
	}
	return 0, false
}

// MeterInput is the input of a voltmeter.
type MeterInput struct {
	Ohms   float64 // resistance
	Farads float64 // capacitance beside it
}

// Raises is how many times as high as before a voltage can become at most by putting the
// meter on it, as a coil does with a capacitance. It reads v / (1 + y z) of v volts behind
// z ohms, y being its admittance; and since no net of this package has a negative
// resistance, no z of it lies nearer to -1/y than by the real part of that.
func (m MeterInput) Raises(hertz float64) float64 {
	susceptance := 2 * math.Pi * hertz * m.Farads
	if susceptance == 0 {
		return 1
	}
	ohms := m.Ohms
	if ohms == 0 {
		ohms = math.Inf(1)
	}
	return math.Hypot(1, ohms*susceptance)
}

// roughOhms bounds |y z z| of a meter of y siemens on z ohms for these to be known closely
// enough from one elimination. Rounding is to z as if it had put 1e-9 S, a trillionth of a
// stout bond, in some place: that changes it by z z 1e-9, and the reading by a part in 10^10.
const roughOhms = 0.1

// roughly is the impedance between two nodes of an island by one elimination.
func (s *Solver) roughly(a, b Node) complex128 {
	s.inject(a, b)
	s.matrix.solve(s.r, s.d)
	return s.d[s.row[a]] - s.d[s.row[b]]
}

// Reads is the voltage that a meter shows from a to b: it is part of the
// circuit while it measures. Between islands it is the only tie, carries no
// current and shows nothing. It allocates nothing unless the update cancels
// and the net is solved anew with the meter in it.
func (s *Solver) Reads(a, b Node, m MeterInput) (complex128, error) {
	if !s.SameIsland(a, b) || s.at(a) == s.at(b) {
		return 0, nil // what does not stand between them open, drives nothing through a meter (Thévenin)
	}
	y := complex(0, s.omega*m.Farads)
	if m.Ohms > 0 && !math.IsInf(m.Ohms, 0) {
		y += complex(1/m.Ohms, 0)
	}
	z := s.roughly(a, b)
	if yz := y * z; size(yz) <= 0.5 && size(yz)*size(z) <= roughOhms {
		return (s.at(a) - s.at(b)) / (1 + yz), nil
	}
	p := &s.meter
	p.Look(a, b)
	v, _, err := p.Full(y, a, b)
	return v, err
}
