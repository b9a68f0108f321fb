package search

import "sync/atomic"

// Holder keeps the index in use. Any number of goroutines may search while
// another swaps; none of them waits. The zero value finds nothing yet.
type Holder struct{ current atomic.Pointer[Index] }

// Find searches the index in use.
func (h *Holder) Find(q Query) Answer {
	if x := h.current.Load(); x != nil {
		return x.Find(q)
	}
	return Answer{}
}

// Ready reports whether there is an index.
func (h *Holder) Ready() bool { return h.current.Load() != nil }

// Swap puts next in use. Next may be nil.
func (h *Holder) Swap(next *Index) { h.current.Store(next) }
