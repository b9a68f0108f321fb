package circuit

// dense is the plain way: a dense complex matrix factored in place with scaled
// partial pivoting, to compare with.
type dense struct {
	n     int
	a     []complex128 // row-major
	pivot []int
	scale []float64 // largest entry of each row before factoring
}

func newDense(n int) *dense {
	return &dense{n: n, a: make([]complex128, n*n), pivot: make([]int, n), scale: make([]float64, n)}
}

// factor is Gaussian elimination with scaled partial pivoting. It returns the
// index of a column without a usable pivot, or -1.
func (m *dense) factor() int {
	n := m.n
	for i := range n {
		big := 0.0
		for _, v := range m.a[i*n : i*n+n] {
			big = max(big, size(v))
		}
		if big == 0 {
			return i
		}
		m.scale[i] = 1 / big
	}
	for k := range n {
		best, at := 0.0, -1
		for i := k; i < n; i++ {
			if s := size(m.a[i*n+k]) * m.scale[i]; s > best {
				best, at = s, i
			}
		}
		if at < 0 || best < 1e-300 {
			return k
		}
		m.pivot[k] = at
		if at != k {
			x, y := m.a[at*n:at*n+n], m.a[k*n:k*n+n]
			for j := range x {
				x[j], y[j] = y[j], x[j]
			}
			m.scale[at] = m.scale[k]
		}
		row := m.a[k*n : k*n+n]
		inverse := 1 / row[k]
		for i := k + 1; i < n; i++ {
			other := m.a[i*n : i*n+n]
			if other[k] == 0 {
				continue
			}
			f := other[k] * inverse
			other[k] = f
			for j := k + 1; j < n; j++ {
				if row[j] != 0 {
					other[j] -= f * row[j]
				}
			}
		}
	}
	return -1
}

// solve replaces b by the solution.
func (m *dense) solve(b []complex128) {
	n := m.n
	for k, p := range m.pivot { // the rows were exchanged whole, multipliers too
		if p != k {
			b[k], b[p] = b[p], b[k]
		}
	}
	for i := 1; i < n; i++ {
		sum := b[i]
		for j, v := range m.a[i*n : i*n+i] {
			if v != 0 {
				sum -= v * b[j]
			}
		}
		b[i] = sum
	}
	for i := n - 1; i >= 0; i-- {
		sum := b[i]
		for j := i + 1; j < n; j++ {
			if v := m.a[i*n+j]; v != 0 {
				sum -= v * b[j]
			}
		}
		b[i] = sum / m.a[i*n+i]
	}
}
