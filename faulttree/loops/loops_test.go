package loops

import (
	"math/rand/v2"
	"slices"
	"testing"
)

// loopThrough reports whether a way that meets no node twice leads from one node to
// another through an edge, by trying all ways.
func loopThrough(edges [][2]int, from, to, edge int, met []bool, used bool) bool {
	if from == to {
		return used
	}
	met[from] = true
	defer func() { met[from] = false }()
	for i, e := range edges {
		for n := range 2 {
			if e[n] == from && !met[e[1-n]] && e[0] != e[1] && loopThrough(edges, e[1-n], to, edge, met, used || i == edge) {
				return true
			}
		}
	}
	return false
}

// Two edges lie on one loop where a way through the other leads from one end of the
// first to its other end: the definition, taken at its word in small graphs.
func TestEdgesOnALoop(t *testing.T) {
	on, off := 0, 0
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 0))
		nodes := 2 + rng.IntN(6)
		edges := make([][2]int, 1+rng.IntN(9))
		for i := range edges {
			edges[i] = [2]int{rng.IntN(nodes), rng.IntN(nodes)}
		}
		got := With(0, edges, nodes)
		for i := range edges[1:] {
			rest := slices.Delete(slices.Clone(edges), 0, 1)
			want := edges[0][0] != edges[0][1] && loopThrough(rest, edges[0][0], edges[0][1], i, make([]bool, nodes), false)
			if got[i+1] != want {
				t.Fatalf("seed %d: edge %d of %v lies on a loop with the first: %t", seed, i+1, edges, got[i+1])
			}
			if want {
				on++
			} else {
				off++
			}
		}
	}
	if min(on, off) < 100 {
		t.Errorf("%d edges on a loop and %d on none show little", on, off)
	}
}
