package circuit

import "faultwright/faulttree/slab"

// Room is memory for solvers that are let go of together, as those of one vehicle after
// another are. The zero value is ready. It must not be used by two goroutines at once.
type Room struct {
	elements slab.Of[Element]
	branches slab.Of[branch]
	numbers  slab.Of[complex128]
	sizes    slab.Of[float64]
	nodes    slab.Of[int]
	rows     slab.Of[int32]
}

// Reuse gives the memory to the solvers that come; those that have been made are not used
// any more.
func (r *Room) Reuse() {
	r.elements.Reuse()
	r.branches.Reuse()
	r.numbers.Reuse()
	r.sizes.Reuse()
	r.nodes.Reuse()
	r.rows.Reuse()
}
