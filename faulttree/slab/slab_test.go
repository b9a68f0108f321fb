package slab

import "testing"

// Pieces do not overlap, are as long as asked, and hold nothing, also of memory that was
// used before.
func TestPieces(t *testing.T) {
	var s Of[int]
	for round := range 3 {
		var all [][]int
		for _, n := range []int{3, 0, 2, 4, most - 2, 5, 3 * most, 1} {
			piece := s.Take(n)
			if len(piece) != n || cap(piece) != n {
				t.Fatalf("round %d: asked for %d, have %d of %d", round, n, len(piece), cap(piece))
			}
			all = append(all, piece)
		}
		for k, piece := range all {
			for i, x := range piece {
				if x != 0 {
					t.Fatalf("round %d: piece %d begins with %d", round, k, x)
				}
				piece[i] = k + 1
			}
		}
		for k, piece := range all {
			for _, x := range piece {
				if x != k+1 {
					t.Fatalf("round %d: piece %d has been written to as %d", round, k, x-1)
				}
			}
		}
		s.Reuse()
	}
	if again := testing.AllocsPerRun(10, func() { s.Reuse(); s.Take(9); s.Take(2 * most) }); again > 0 {
		t.Errorf("it allocates %v times although it has the memory", again)
	}
}
