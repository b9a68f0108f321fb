// Package slab hands memory out in pieces and takes all of it back at once: for much that
// is made, and let go of together, again and again.
package slab

// Of is memory for values of one type. The zero value is ready. It must not be used by two
// goroutines at once.
type Of[T any] struct {
	chunks [][]T
	at     int // the chunk that pieces are taken from
	used   int // of it
	all    int // values of all chunks
}

// most is how many values a chunk has at most, but for a larger piece. The first are small:
// some take little, and once.
const most = 4096

// Take is n zero values that nobody else has until [Of.Reuse].
func (s *Of[T]) Take(n int) []T {
	for s.at < len(s.chunks) && len(s.chunks[s.at])-s.used < n {
		s.at, s.used = s.at+1, 0
	}
	if s.at == len(s.chunks) {
		size := max(n, min(s.all, most))
		s.chunks, s.all = append(s.chunks, make([]T, size)), s.all+size
	}
	out := s.chunks[s.at][s.used : s.used+n : s.used+n]
	s.used += n
	clear(out)
	return out
}

// Reuse takes all pieces back: what was taken until now is not used any more.
func (s *Of[T]) Reuse() { s.at, s.used = 0, 0 }
