package suspect

import "sync"

// recent keeps what was worked out last, so that the next belief, which mostly rests on the
// same evidence and one reading more, need not do it again. Any number of goroutines may
// ask it.
type recent[K comparable, V any] struct {
	most int // half of how many are kept at most

	lock      sync.Mutex
	kept, old map[K]V // what was not asked for since kept was full last is old
}

// forget lets go of all.
func (r *recent[K, V]) forget() {
	r.lock.Lock()
	defer r.lock.Unlock()
	r.kept, r.old = nil, nil
}

// of is what was worked out for a key, by work where it is not known any more.
func (r *recent[K, V]) of(key K, work func() V) V {
	if v, ok := r.known(key); ok {
		return v
	}
	v := work()
	r.lock.Lock()
	defer r.lock.Unlock()
	r.keep(key, v)
	return v
}

// known is what is kept for a key.
func (r *recent[K, V]) known(key K) (V, bool) {
	r.lock.Lock()
	defer r.lock.Unlock()
	v, ok := r.kept[key]
	if !ok {
		if v, ok = r.old[key]; ok {
			r.keep(key, v)
		}
	}
	return v, ok
}

func (r *recent[K, V]) keep(key K, v V) {
	if len(r.kept) == r.most {
		r.kept, r.old = nil, r.kept
	}
	if r.kept == nil {
		r.kept = make(map[K]V, r.most)
	}
	r.kept[key] = v
}

// found is what is kept of evidence over the vehicles of a pool.
type found struct {
	densities   *recent[densityKey, density]
	likelihoods *recent[likelihoodKey, likelihood]
	deviations  *recent[deviationKey, []float64]
	tells       *tells
}

// newFound keeps no more than some 10 MB: by case a density or a likelihood of 16,000 has
// 64 kB, and deviations are of some tens.
func newFound() *found {
	return &found{&recent[densityKey, density]{most: 30}, &recent[likelihoodKey, likelihood]{most: 30}, &recent[deviationKey, []float64]{most: 500}, &tells{}}
}

// forget lets go of all.
func (f *found) forget() {
	f.densities.forget()
	f.likelihoods.forget()
	f.deviations.forget()
	f.tells.forget()
}
