package circuit

import (
	"fmt"
	"math"
	"math/cmplx"
	"testing"
	"time"

	"gonum.org/v1/gonum/mat"

	"faultwright/faulttree/must"
)

// whole is the matrix as stamped, in full, with the right side of the sources.
func whole(s *Solver) (*dense, []complex128) {
	m, d := s.matrix, newDense(s.matrix.n)
	for k, column := range m.order {
		for p := m.start[k]; p < m.start[k+1]; p++ {
			d.a[int(m.index[p])*d.n+int(column)] = m.a[p]
		}
	}
	s.inject(Earth, Earth)
	s.residual(make([]complex128, d.n+1), true)
	return d, append([]complex128(nil), s.r[:d.n]...)
}

// plain solves the net with the plain dense elimination.
func plain(s *Solver) func() []complex128 {
	m, b := whole(s)
	stamped, x := append([]complex128(nil), m.a...), make([]complex128, m.n)
	return func() []complex128 {
		copy(m.a, stamped)
		copy(x, b)
		m.factor()
		m.solve(x)
		return x
	}
}

// twice solves the net with a general library for real matrices (gonum): every
// complex number as a block of two by two.
func twice(s *Solver) func() []complex128 {
	m, b := whole(s)
	a, right, x := mat.NewDense(2*m.n, 2*m.n, nil), mat.NewVecDense(2*m.n, nil), mat.NewVecDense(2*m.n, nil)
	for i := range m.n {
		for j := range m.n {
			v := m.a[i*m.n+j]
			a.Set(2*i, 2*j, real(v))
			a.Set(2*i+1, 2*j+1, real(v))
			a.Set(2*i, 2*j+1, -imag(v))
			a.Set(2*i+1, 2*j, imag(v))
		}
		right.SetVec(2*i, real(b[i]))
		right.SetVec(2*i+1, imag(b[i]))
	}
	var lu mat.LU
	out := make([]complex128, m.n)
	return func() []complex128 {
		lu.Factorize(a)
		if err := lu.SolveVecTo(x, false, right); err != nil {
			return nil
		}
		for i := range out {
			out[i] = complex(x.AtVec(2*i), x.AtVec(2*i+1))
		}
		return out
	}
}

// sized is a random net of exactly this many unknowns.
func sized(t testing.TB, unknowns int) *Solver {
	t.Helper()
	for nodes := unknowns - 4; nodes <= unknowns; nodes++ {
		if s := solved(t, random(1, nodes), 60); s.matrix.n == unknowns {
			return s
		}
	}
	t.Fatalf("no net of %d unknowns", unknowns)
	return nil
}

// Three ways to solve the same matrix agree.
func TestThreeSolversAgree(t *testing.T) {
	for seed := range uint64(40) {
		s := solved(t, random(seed, 20), 60)
		for what, got := range map[string][]complex128{"plain elimination": plain(s)(), "gonum": twice(s)()} {
			for i, v := range got {
				if want := s.x[i]; cmplx.Abs(v-want) > 1e-8*(1+cmplx.Abs(want)) {
					t.Fatalf("seed %d: unknown %d is %v, by %s %v", seed, i, want, what, v)
				}
			}
		}
	}
}

// A full solution (values stamped, factored, solved, corrected) against the
// plain dense elimination and gonum's, without their stamping, in one run.
func BenchmarkFullSolve(b *testing.B) {
	for _, unknowns := range []int{20, 40} {
		b.Run(fmt.Sprint(unknowns), func(b *testing.B) {
			s := sized(b, unknowns)
			p, g := plain(s), twice(s)
			own := func() {
				must.Do(b, s.Factor())
			}
			best := [3]float64{math.Inf(1), math.Inf(1), math.Inf(1)}
			for range 100 { // by turns, the quickest of each: other work on the machine slows all
				for i, f := range []func(){own, func() { p() }, func() { g() }} {
					const rounds = 20
					begun := time.Now()
					for range rounds {
						f()
					}
					best[i] = min(best[i], float64(time.Since(begun).Nanoseconds())/rounds)
				}
			}
			b.ReportAllocs()
			for b.Loop() {
				own()
			}
			b.ReportMetric(best[1]/best[0], "x-faster-than-dense")
			b.ReportMetric(best[2]/best[0], "x-faster-than-gonum")
			b.ReportMetric(best[0], "best-ns/solve")
		})
	}
}

// Turning to a pair and asking what a meter there reads.
func BenchmarkReads(b *testing.B) {
	s := solved(b, random(1, 18), 60)
	b.ReportAllocs()
	for b.Loop() {
		must.Have(s.Reads(4, 9, MeterInput{Ohms: 10e6, Farads: 100e-12}))(b)
	}
}
