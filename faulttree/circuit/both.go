package circuit

import "math"

// LookBoth turns two pairs to other nodes of their net, as [Pair.Look] does, with the same
// result to the bit. At 0 Hz that takes little longer than one: a net has real numbers alone
// there, so the two parts of complex ones are two solutions that do not touch each other. It
// reports whether the second pair has looked; else it is as it was.
func LookBoth(p *Pair, a, b Node, q *Pair, c, d Node) bool {
	s := p.s
	if s.omega != 0 || q.s != s || !s.SameIsland(a, b) || !s.SameIsland(c, d) || !s.refineBoth(p.column, a, b, c, d) {
		p.Look(a, b)
		return false
	}
	for i, v := range p.column {
		p.column[i], q.column[i] = complex(real(v), 0), complex(imag(v), 0)
	}
	p.looking(a, b)
	q.looking(c, d)
	return true
}

// refineBoth is [Solver.refine] for one ampere through two nodes in the real parts of x, and
// through two others in the imaginary ones. It reports whether both converge.
func (s *Solver) refineBoth(x []complex128, a, b, c, d Node) bool {
	clear(x)
	var before [2]float64
	var done [2]bool
	for try := range 16 {
		s.inject(a, b)
		if c != d {
			s.r[s.row[c]] += 1i
			s.r[s.row[d]] -= 1i
		}
		if try > 0 {
			s.residual(x, false)
		}
		s.matrix.solve(s.r, s.d)
		var most, change [2]float64
		for i, v := range s.d[:s.matrix.n] {
			by := [2]float64{real(v), imag(v)}
			if done[0] {
				by[0] = 0
			}
			if done[1] {
				by[1] = 0
			}
			x[i] += complex(by[0], by[1])
			if i < s.volts {
				most[0], most[1] = max(most[0], math.Abs(real(x[i]))), max(most[1], math.Abs(imag(x[i])))
				change[0], change[1] = max(change[0], math.Abs(by[0])), max(change[1], math.Abs(by[1]))
			}
		}
		for k := range done {
			switch {
			case math.IsNaN(change[k]) || math.IsInf(most[k], 0) || math.IsNaN(most[k]):
				return false
			case done[k] || try == 0:
				before[k] = most[k]
				continue
			case converged(try, most[k], change[k]), change[k] > before[k]/4 && change[k] <= 1e-9*most[k]:
				done[k] = true
			case change[k] > before[k]/4:
				return false
			}
			before[k] = change[k]
		}
		if done[0] && done[1] {
			return true
		}
	}
	return false
}
