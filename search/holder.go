package search

import "sync/atomic"

// Holder keeps the index in use. Any number of goroutines may search while
// another swaps; none of them waits. The zero value finds nothing yet.
type Holder struct{ current atomic.Pointer[Index] }

// Find searches the index in use.
func (h *Holder) Find(q Query) Answer {
	for {
		x := h.current.Load()
		if x == nil {
			return Answer{}
		}
		answer, err := x.find(q)
		if err == nil || h.current.Load() == x {
			return answer
		}
		// The index was swapped and closed between the two: use the new one.
	}
}

// Ready reports whether there is an index.
func (h *Holder) Ready() bool { return h.current.Load() != nil }

// Swap puts next in use and closes the one before, once the searches that
// still run in it have ended. Next may be nil.
func (h *Holder) Swap(next *Index) {
	if old := h.current.Swap(next); old != nil && old != next {
		_ = old.Close() // nothing of it is needed any more
	}
}
