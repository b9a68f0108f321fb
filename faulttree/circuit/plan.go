package circuit

import (
	"encoding/binary"
	"slices"
	"sync"
)

// Plans keeps how nets are eliminated, for others that are tied together alike: many
// vehicles of a rig are. Any number of goroutines may share one; the zero value is ready.
type Plans struct {
	lock sync.Mutex
	kept map[string]*plan
}

// mostPlans is how many are kept, of some kB each.
const mostPlans = 100

// plan is what follows from how a net is tied together, whatever its values are.
type plan struct {
	branches []branch
	ties     []tie
	matrix   *matrix // its pattern and its pivots
}

// Compile is the function Compile, but that it takes the net over, which must not be
// edited any more, and that it minds a name that two elements have in the first net alone.
// The solver takes its memory from room.
func (p *Plans) Compile(n *Net, hertz float64, room *Room) (*Solver, error) {
	return compile(n, hertz, p, room)
}

// of makes the matrix of a solver of which the elements are sorted; nil keeps nothing.
func (p *Plans) of(s *Solver, size int) error {
	if p == nil {
		if err := s.net.checkNames(); err != nil {
			return err
		}
		return s.plan(size)
	}
	key := s.tied(size)
	p.lock.Lock()
	known, first := p.kept[string(key)], p.kept == nil
	p.lock.Unlock()
	if first {
		if err := s.net.checkNames(); err != nil {
			return err
		}
	}
	if known != nil {
		s.branches, s.ties, s.matrix = known.branches, known.ties, known.matrix.like(s.room)
		return nil
	}
	if err := s.plan(size); err != nil {
		return err
	}
	of, pivots := s.matrix, &s.matrix.fixed // its numbers are let go of with the solver
	shape := &matrix{n: of.n, order: of.order, start: of.start, index: of.index, diag: of.diag,
		fixed: factors{step: pivots.step, rows: pivots.rows, lp: pivots.lp, li: pivots.li, up: pivots.up, ui: pivots.ui}}
	p.lock.Lock()
	defer p.lock.Unlock()
	if p.kept == nil || len(p.kept) == mostPlans {
		p.kept = map[string]*plan{}
	}
	p.kept[string(key)] = &plan{slices.Clone(s.branches), s.ties, shape}
	return nil
}

// tied is the same for nets that are tied together alike.
func (s *Solver) tied(size int) []byte {
	key := make([]byte, 0, 4*(len(s.branches)+len(s.ties))+8)
	add := func(numbers ...int32) {
		for _, n := range numbers {
			key = binary.AppendUvarint(key, uint64(n))
		}
	}
	add(int32(size), int32(len(s.branches)))
	for i := range s.branches {
		b := &s.branches[i]
		add(b.element, b.a, b.b)
	}
	for i := range s.ties {
		t := &s.ties[i]
		add(t.element, t.k, t.a, t.b)
	}
	return key
}
