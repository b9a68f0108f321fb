package suspect

import (
	"slices"
	"sync"
)

// mostRecent is how many results are kept of a kind: one by case, of 16,000, has 64 kB.
const mostRecent = 60

// recent keeps what was worked out last, so that the next belief, which mostly rests on the
// same evidence and one reading more, need not do it again. Any number of goroutines may
// ask it.
type recent[K comparable, V any] struct {
	lock sync.Mutex
	keys []K // the longest unused first
	kept map[K]V
}

// forget lets go of all.
func (r *recent[K, V]) forget() {
	r.lock.Lock()
	defer r.lock.Unlock()
	r.keys, r.kept = nil, nil
}

// of is what was worked out for a key, by work where it is not known any more.
func (r *recent[K, V]) of(key K, work func() V) V {
	if v, ok := r.known(key); ok {
		return v
	}
	v := work()
	r.lock.Lock()
	defer r.lock.Unlock()
	if before, ok := r.kept[key]; ok { // somebody else has worked it out meanwhile
		return before
	}
	if r.kept == nil {
		r.kept = map[K]V{}
	}
	if len(r.keys) == mostRecent {
		delete(r.kept, r.keys[0])
		r.keys = slices.Delete(r.keys, 0, 1)
	}
	r.keys = append(r.keys, key)
	r.kept[key] = v
	return v
}

// known is what is kept for a key.
func (r *recent[K, V]) known(key K) (v V, ok bool) {
	r.lock.Lock()
	defer r.lock.Unlock()
	if v, ok = r.kept[key]; ok {
		at := slices.Index(r.keys, key)
		r.keys = append(slices.Delete(r.keys, at, at+1), key)
	}
	return v, ok
}
