package circuit

// fillSearch is the memory of a search for which entries of a column elimination
// fills.
type fillSearch struct {
	seen     []int32 // row -> last step that visited it, counted from 1
	path     []int32 // steps of L under way
	next     []int32 // and the entry each goes on with
	found    []int32 // steps, those that depend on others first
	fresh    []int32 // rows without a pivot
	pivotRow []int32 // step -> its row
}

func newFillSearch(n int) fillSearch {
	room := make([]int32, 6*n)
	of := func(i int) []int32 { return room[i*n : (i+1)*n : (i+1)*n] }
	return fillSearch{of(0), of(1), of(2), of(3)[:0], of(4)[:0], of(5)}
}

// visit goes from a row to all that elimination reaches from it.
func (r *fillSearch) visit(f *factors, row, mark int32) {
	if r.seen[row] == mark {
		return
	}
	r.seen[row] = mark
	if f.step[row] < 0 {
		r.fresh = append(r.fresh, row)
		return
	}
	depth := 0
	r.path[0], r.next[0] = f.step[row], f.lp[f.step[row]]
	for depth >= 0 {
		j := r.path[depth]
		if r.next[depth] == f.lp[j+1] {
			r.found = append(r.found, j)
			depth--
			continue
		}
		i := f.li[r.next[depth]]
		r.next[depth]++
		if r.seen[i] == mark {
			continue
		}
		r.seen[i] = mark
		if k := f.step[i]; k < 0 {
			r.fresh = append(r.fresh, i)
		} else {
			depth++
			r.path[depth], r.next[depth] = k, f.lp[k]
		}
	}
}

// search eliminates column by column (Gilbert and Peierls) and takes for pivot
// the diagonal entry unless another one of the column is ten times as large,
// by itself and each against its row. It returns the unknown without a pivot,
// or -1. It allocates where the factors outgrow their room.
func (m *matrix) search(f *factors) (int, error) {
	m.noteRowSizes(f, false)
	if m.fill.seen == nil {
		m.fill = newFillSearch(m.n)
	}
	for i := range f.step {
		f.step[i], m.fill.seen[i] = -1, 0
	}
	f.li, f.ui, f.lx, f.ux = f.li[:0], f.ui[:0], f.lx[:0], f.ux[:0]
	x, r := m.work, &m.fill // x is by rows here
	for k := range m.n {
		r.found, r.fresh = r.found[:0], r.fresh[:0]
		for p := m.start[k]; p < m.start[k+1]; p++ {
			r.visit(f, m.index[p], int32(k+1))
			x[m.index[p]] = m.a[p]
		}
		f.lp[k], f.up[k] = int32(len(f.li)), int32(len(f.ui))
		if len(f.li)+len(f.ui)+len(r.found)+len(r.fresh) > mostEntries {
			clear(x)
			return -1, errDense
		}
		for at := len(r.found) - 1; at >= 0; at-- {
			j := r.found[at]
			row := r.pivotRow[j]
			u := x[row]
			x[row] = 0
			f.ui, f.ux = append(f.ui, j), append(f.ux, u)
			for q := f.lp[j]; q < f.lp[j+1]; q++ {
				x[f.li[q]] -= f.lx[q] * u
			}
		}
		// lp[k+1] bounds a search through column k
		row := m.choose(f, m.order[k])
		if row < 0 {
			clear(x)
			return int(m.order[k]), nil
		}
		f.step[row] = int32(k)
		r.pivotRow[k] = row
		f.dx[k] = inverse(x[row])
		x[row] = 0
		for _, i := range r.fresh {
			if i != row {
				f.li, f.lx = append(f.li, i), append(f.lx, x[i]*f.dx[k])
				x[i] = 0
			}
		}
		f.lp[k+1], f.up[k+1] = int32(len(f.li)), int32(len(f.ui))
	}
	for q, i := range f.li {
		f.li[q] = f.step[i]
	}
	for p, i := range m.index {
		f.rows[p] = f.step[i]
	}
	return -1, nil
}

// choose is the pivot row of a column among those that have none yet, or -1.
func (m *matrix) choose(f *factors, diagonal int32) int32 {
	most, mostWeighed, row := 0.0, 0.0, int32(-1)
	for _, i := range m.fill.fresh {
		s := size(m.work[i])
		most = max(most, s)
		if w := s / f.rowSize[i]; w > mostWeighed || w == mostWeighed && row >= 0 && i < row {
			mostWeighed, row = w, i
		}
	}
	if !(mostWeighed > 1e-290) {
		return -1
	}
	if f.step[diagonal] < 0 && m.fill.seen[diagonal] == m.fill.seen[row] {
		if s := size(m.work[diagonal]); 10*s >= most || 10*s >= mostWeighed*f.rowSize[diagonal] {
			return diagonal
		}
	}
	return row
}
