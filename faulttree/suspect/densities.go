package suspect

import "sync"

// densities keeps how well each case fits a reading, so that a further reading does
// not work out anew what those before it said. Any number of goroutines may ask it.
type densities struct {
	lock sync.Mutex
	keys []densityKey // the oldest first
	kept map[densityKey]density
}

// forget lets go of all.
func (d *densities) forget() {
	d.lock.Lock()
	defer d.lock.Unlock()
	d.keys, d.kept = nil, nil
}

// densityKey is a reading of a quantity.
type densityKey struct {
	quantity string
	reading  reading
}

// mostDensities is how many are kept: 16,000 cases are 64 kB each.
const mostDensities = 100

// density is that of a reading in each case, where nothing went wrong, and how far
// each is away from it.
type density struct{ in, away []float32 }

// of is the density of a reading.
func (d *densities) of(quantity string, r *reading, column []float32) density {
	key := densityKey{quantity, *r}
	d.lock.Lock()
	defer d.lock.Unlock()
	if kept, ok := d.kept[key]; ok {
		return kept
	}
	out := density{make([]float32, len(column)), make([]float32, len(column))}
	for i, x := range column {
		out.in[i] = float32(r.in(float64(x)))
		out.away[i] = float32(r.away(float64(x)))
	}
	if d.kept == nil {
		d.kept = map[densityKey]density{}
	}
	if len(d.keys) == mostDensities {
		delete(d.kept, d.keys[0])
		d.keys = d.keys[1:]
	}
	d.keys = append(d.keys, key)
	d.kept[key] = out
	return out
}
