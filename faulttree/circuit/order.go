package circuit

import "math/bits"

// graph is a symmetric pattern without a diagonal: a set of neighbours for
// each unknown, as bits.
type graph struct {
	words int
	bits  []uint64
}

func newGraph(n int) graph {
	words := (n + 63) / 64
	return graph{words, make([]uint64, n*words)}
}

func (g graph) of(i int) []uint64 { return g.bits[i*g.words : (i+1)*g.words] }

func (g graph) join(i, j int) {
	if i != j {
		g.of(i)[j/64] |= 1 << (j % 64)
		g.of(j)[i/64] |= 1 << (i % 64)
	}
}

// each calls f with every neighbour of i, in ascending order.
func (g graph) each(i int, f func(j int)) {
	for w, set := range g.of(i) {
		for ; set != 0; set &= set - 1 {
			f(w*64 + bits.TrailingZeros64(set))
		}
	}
}

func (g graph) degree(i int) int {
	sum := 0
	for _, set := range g.of(i) {
		sum += bits.OnesCount64(set)
	}
	return sum
}

// minimumDegree is an order of elimination that keeps few new entries: always
// the unknown with the fewest neighbours next, the first of several. It also
// counts the entries that L and U get if every pivot is a diagonal entry, and
// gives up where they become too many. It uses the graph up.
func (g graph) minimumDegree(n int) (order []int32, entries int) {
	degrees := make([]int, n)
	order = make([]int32, 0, n)
	for i := range degrees {
		degrees[i] = g.degree(i)
	}
	for range n {
		next := -1
		for i, d := range degrees {
			if d >= 0 && (next < 0 || d < degrees[next]) {
				next = i
			}
		}
		order = append(order, int32(next))
		if entries += 1 + 2*degrees[next]; entries > mostEntries {
			return nil, entries
		}
		degrees[next] = -1
		mine := g.of(next)
		g.each(next, func(j int) {
			other := g.of(j)
			for w := range other {
				other[w] |= mine[w]
			}
			other[j/64] &^= 1 << (j % 64)
			other[next/64] &^= 1 << (next % 64)
			degrees[j] = g.degree(j)
		})
	}
	return order, entries
}
