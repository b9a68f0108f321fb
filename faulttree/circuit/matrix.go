package circuit

import (
	"errors"
	"math/bits"
	"slices"
)

// mostEntries bounds the entries of one set of factors, of 20 bytes each.
const mostEntries = 2_500_000

// mostGrowth is how much larger than its pivot another entry of a column may
// be, by itself or each against its row, before pivots are chosen by value.
const mostGrowth = 1e3

var errDense = errors.New("the net is too dense: its factors would take more than 50 MB")

// matrix is a sparse complex one of a symmetric pattern, with its factors. Its
// columns are kept in the order of elimination, its rows as the caller numbers
// them. Nothing depends on values that it had before.
type matrix struct {
	n     int
	order []int32 // step -> unknown
	start []int32 // step -> its first entry
	index []int32 // entry -> row
	a     []complex128
	diag  []int32  // unknown -> its diagonal entry
	fixed factors  // pivots chosen once, by structure
	free  factors  // pivots chosen by the present values; no room until some are
	now   *factors // those in force
	work  []complex128
	fill  fillSearch
}

// factors are L without its diagonal of ones, and U, its diagonal inverted and
// kept apart. Their rows are counted in steps.
type factors struct {
	step    []int32 // row -> step at which it is the pivot
	rows    []int32 // entry of the matrix -> step of its row
	lp, li  []int32
	up, ui  []int32
	lx, ux  []complex128
	dx      []complex128
	rowSize []float64 // step -> size of the diagonal entry of its row, or 1
}

// newFactors makes factors for a matrix of n unknowns and so many entries, with
// room for so many of each factor.
func newFactors(of *Room, n, entries, room int) factors {
	whole, numbers := make([]int32, 3*n+2+entries+2*room), of.numbers.Take(n+2*room)
	ints := func(n int) (of []int32) {
		of, whole = whole[:n:n], whole[n:]
		return of
	}
	complexes := func(n int) (of []complex128) {
		of, numbers = numbers[:n:n], numbers[n:]
		return of
	}
	return factors{step: ints(n), rows: ints(entries), lp: ints(n + 1), up: ints(n + 1), li: ints(room)[:0], ui: ints(room)[:0],
		lx: complexes(room)[:0], ux: complexes(room)[:0], dx: complexes(n), rowSize: of.sizes.Take(n)}
}

// newMatrix finds the order of elimination for a pattern. It uses the graph
// up.
func newMatrix(room *Room, n int, g graph) (*matrix, error) {
	m := &matrix{n: n, start: make([]int32, 1, n+1), work: room.numbers.Take(n)}
	pattern := graph{g.words, slices.Clone(g.bits)}
	entries := n
	for _, set := range g.bits {
		entries += bits.OnesCount64(set)
	}
	m.index = make([]int32, 0, entries)
	if m.order, entries = g.minimumDegree(n); entries > mostEntries {
		return nil, errDense
	}
	m.diag = make([]int32, n)
	for _, i := range m.order {
		from := len(m.index)
		m.index = append(m.index, i)
		pattern.each(int(i), func(j int) { m.index = append(m.index, int32(j)) })
		slices.Sort(m.index[from:])
		at, _ := slices.BinarySearch(m.index[from:], i)
		m.diag[i] = int32(from + at)
		m.start = append(m.start, int32(len(m.index)))
	}
	m.a = room.numbers.Take(len(m.index) + 1)
	m.fixed = newFactors(room, n, len(m.index), (entries-n)/2) // of each, with the diagonal for pivots
	return m, nil
}

// like is a matrix of the same pattern that is eliminated along the same fixed pivots.
// They share what is only read.
func (m *matrix) like(of *Room) *matrix {
	out := &matrix{n: m.n, order: m.order, start: m.start, index: m.index, diag: m.diag, fixed: m.fixed}
	room := of.numbers.Take(len(m.index) + 1 + len(m.fixed.li) + len(m.fixed.ui) + 2*m.n)
	take := func(n int) (of []complex128) {
		of, room = room[:n:n], room[n:]
		return of
	}
	f := &out.fixed
	out.a, f.lx, f.ux, f.dx, out.work = take(len(m.index)+1), take(len(f.li)), take(len(f.ui)), take(m.n), room
	f.rowSize = of.sizes.Take(m.n)
	return out
}

// slots finds where entries stand; one for a row or column past the last is
// swallowed.
func (m *matrix) slots() func(i, j int32) int32 {
	place := make([]int32, m.n)
	for k, i := range m.order {
		place[i] = int32(k)
	}
	return func(i, j int32) int32 {
		if int(i) >= m.n || int(j) >= m.n {
			return int32(len(m.index))
		}
		k := place[j]
		at, _ := slices.BinarySearch(m.index[m.start[k]:m.start[k+1]], i)
		return m.start[k] + int32(at)
	}
}

func (m *matrix) clear() { clear(m.a) }

// size is a cheap norm, enough to compare pivots.
func size(c complex128) float64 {
	re, im := real(c), imag(c)
	if re < 0 {
		re = -re
	}
	if im < 0 {
		im = -im
	}
	return re + im
}

func inverse(c complex128) complex128 {
	re, im := real(c), imag(c)
	if im == 0 {
		return complex(1/re, 0)
	}
	d := 1 / (re*re + im*im)
	return complex(re*d, -im*d)
}

// noteRowSizes notes how large each row is.
func (m *matrix) noteRowSizes(f *factors, byStep bool) {
	for i, d := range m.diag {
		w := size(m.a[d])
		if w == 0 {
			w = 1
		}
		if byStep {
			i = int(f.step[i])
		}
		f.rowSize[i] = w
	}
}

// factor eliminates along the pivots that structure gave, and if those do not
// serve, along others. It returns the unknown without a usable pivot, or -1.
func (m *matrix) factor() (int, error) {
	m.now = &m.fixed
	if m.refactor(&m.fixed) {
		return -1, nil
	}
	return m.pivot()
}

// pivot chooses pivots by the present values.
func (m *matrix) pivot() (int, error) {
	if m.free.step == nil {
		m.free = newFactors(&Room{}, m.n, len(m.index), min(m.n*(m.n+1)/2, 2*len(m.index)+2080)) // up to 64 unknowns: more is never needed
	}
	m.now = &m.free
	return m.search(&m.free)
}

// refactor eliminates along known pivots and reports whether all of them
// serve.
func (m *matrix) refactor(f *factors) bool {
	m.noteRowSizes(f, true)
	x, rows, a, weight := m.work, f.rows, m.a, f.rowSize
	lp, li, lx := f.lp, f.li, f.lx
	for k := range m.n {
		for p := m.start[k]; p < m.start[k+1]; p++ {
			x[rows[p]] = a[p]
		}
		for p := f.up[k]; p < f.up[k+1]; p++ {
			j := f.ui[p]
			u := x[j]
			x[j] = 0
			f.ux[p] = u
			for q := lp[j]; q < lp[j+1]; q++ {
				x[li[q]] -= lx[q] * u
			}
		}
		pivot := x[k]
		x[k] = 0
		most := mostGrowth * size(pivot)
		if !(most > 1e-290) {
			clear(x)
			return false
		}
		inverted := inverse(pivot)
		f.dx[k] = inverted
		for q := lp[k]; q < lp[k+1]; q++ {
			i := li[q]
			v := x[i]
			x[i] = 0
			lx[q] = v * inverted
			if s := size(v); !(s <= most) && !(s*weight[k] <= most*weight[i]) {
				clear(x)
				return false
			}
		}
	}
	return true
}

// solve finds x for b, both with one place more than there are unknowns; b
// stays.
func (m *matrix) solve(b, x []complex128) {
	f, y := m.now, m.work
	for i, k := range f.step {
		y[k] = b[i]
	}
	for j, v := range y {
		if v == 0 {
			continue
		}
		for q := f.lp[j]; q < f.lp[j+1]; q++ {
			y[f.li[q]] -= f.lx[q] * v
		}
	}
	for k := m.n - 1; k >= 0; k-- {
		if y[k] == 0 {
			x[m.order[k]] = 0 // no current comes there
			continue
		}
		v := y[k] * f.dx[k]
		y[k] = 0
		x[m.order[k]] = v
		for p := f.up[k]; p < f.up[k+1]; p++ {
			y[f.ui[p]] -= f.ux[p] * v
		}
	}
}
