package circuit

import (
	"math/rand/v2"
	"testing"
)

// A tree fills nothing in: its factors have a diagonal and one entry on either
// side for each branch, whatever the numbers of its nodes.
func TestATreeFillsNothingIn(t *testing.T) {
	for seed := range uint64(50) {
		r := rand.New(rand.NewPCG(seed, 4))
		size := 2 + r.IntN(150)
		names, g := r.Perm(size), newGraph(size)
		for i := 1; i < size; i++ {
			g.join(names[i], names[r.IntN(i)])
		}
		order, entries := g.minimumDegree(size)
		if entries != 3*size-2 || len(order) != size {
			t.Fatalf("a tree of %d gets %d entries in %d steps, want %d", size, entries, len(order), 3*size-2)
		}
	}
}
