package suspect

import (
	"math"
	"slices"
)

// Evened is the share of each case as it counts for what a further reading would tell;
// see [Belief.Next]. Where enough cases carry the belief they are [Belief.Shares].
func (b *Belief) Evened() []float64 {
	out := b.share
	for system := range b.pool.systems {
		c := &chooser{Belief: b, system: system}
		if of := c.evened(); c.even {
			if &out[0] == &b.share[0] {
				out = slices.Clone(out)
			}
			for i, share := range of {
				if b.pool.system(i) == system {
					out[i] = share
				}
			}
		}
	}
	return out
}

// evened is the share of each case for judging what to read next. The more was read,
// the fewer cases of a cell carry its share, those that happen to be near to every
// reading in whatever has nothing to do with the fault, loads and lengths; what is
// still to be read cannot be told from chance in a handful. So where they are too few to
// rest shares on, the cases of each cell share more evenly what it has: their
// likelihoods count to a power below 1, the highest with which they are enough (a
// tempered likelihood; R. M. Neal, Statistics and Computing 11, 2001). What a cell has
// stays, and so does what each fault has.
func (c *chooser) evened() []float64 {
	if c.size(c.share).cases() >= few {
		return c.share
	}
	c.even = true
	// The power is found bit by bit: to half of it is a square root.
	root, held, tried, out := make([]float64, len(c.share)), make([]float64, len(c.share)), make([]float64, len(c.share)), make([]float64, len(c.share))
	for i, share := range c.share {
		if prior := c.pool.prior[i]; prior > 0 && share > 0 {
			root[i], held[i] = share/prior, 1
		}
	}
	for range 8 {
		for i, x := range root {
			root[i] = math.Sqrt(x)
			tried[i] = held[i] * root[i]
		}
		if c.evenBy(tried, out); c.size(out).cases() >= few {
			held, tried = tried, held
		}
	}
	c.evenBy(held, out)
	return out
}

// evenBy fills in the shares by some likelihoods within each cell of the system.
func (c *chooser) evenBy(likelihoods, out []float64) {
	for _, cell := range c.pool.cells {
		if c.pool.kinds[cell.kind].system != c.system {
			continue
		}
		whole, sum := 0.0, 0.0
		for _, i := range cell.cases {
			whole += c.share[i]
			out[i] = c.pool.prior[i] * likelihoods[i]
			sum += out[i]
		}
		for _, i := range cell.cases {
			if sum > 0 {
				out[i] *= whole / sum
			}
		}
	}
}

// size is of how many cases of the system some shares are.
func (c *chooser) size(shares []float64) (out size) {
	for i, share := range shares {
		if c.pool.system(i) == c.system {
			out.add(share)
		}
	}
	return out
}
