package suspect

import (
	"math"
	"slices"
	"sync"
)

// Evened is the share of each case as it counts for what a further reading would tell;
// see [Belief.Next]. Where enough cases carry the belief they are [Belief.Shares]. Nobody
// writes to it.
func (b *Belief) Evened() []float64 {
	out := b.share
	for system, of := range b.evened {
		switch even := of(); {
		case !b.isEven(even):
		case !b.isEven(out):
			out = even
		default:
			out = slices.Clone(out)
			for i, share := range even {
				if b.pool.system(i) == system {
					out[i] = share
				}
			}
		}
	}
	return out
}

// isEven reports whether some shares are not those of the belief.
func (b *Belief) isEven(shares []float64) bool { return &shares[0] != &b.share[0] }

// later works out, by system, once somebody asks for it, the share of each case for
// judging what to read next. The more was read, the fewer cases of a cell carry its
// share, those that happen to be near to every reading in whatever has nothing to do with
// the fault, loads and lengths; what is still to be read cannot be told from chance in a
// handful. So where they are too few to rest shares on, the cases of each cell share more
// evenly what it has: their likelihoods count to a power below 1, the highest with which
// they are enough (a tempered likelihood; R. M. Neal, Statistics and Computing 11, 2001).
// What a cell has stays, and so does what each fault has.
func (b *Belief) later() []func() []float64 {
	out := make([]func() []float64, len(b.pool.systems))
	for system := range out {
		out[system] = sync.OnceValue(func() []float64 {
			return b.evenedTo(system, few)
		})
	}
	return out
}

// enoughToPart is of how many cases, as if all weighed the same, a reading is judged that
// tells nothing worth it in few. What chance tells grows with the suspects and with what
// they show (by Miller and Madow half a nat of a case for each suspect in each part beyond
// those that must be), so that of a dozen suspects nothing rough tells anything in 40
// cases. More are farther from what was read, so they are not asked first. Common
// practice, no source.
const enoughToPart = 3 * few

// evenedTo is the shares, those of a system evened where not so many cases carry them.
func (b *Belief) evenedTo(system int, enough float64) []float64 {
	if b.size(system, b.share).cases() >= enough {
		return b.share
	}
	type uneven struct {
		cases []int
		whole float64
	}
	var cells []uneven
	var others size // cases of cells in which none is told from the others
	cases := 0
	for _, c := range b.pool.cells {
		if b.pool.kinds[c.kind].system != system {
			continue
		}
		var of size
		for _, i := range c.cases {
			of.add(b.share[i])
		}
		if of.sum > negligible {
			cells = append(cells, uneven{c.cases, of.sum})
			cases += len(c.cases)
		} else {
			others = size{others.sum + of.sum, others.squares + of.squares}
		}
	}
	// The power is found bit by bit: to half of it is a square root.
	root, held := make([]float64, 0, cases), make([]float64, 0, cases)
	for _, c := range cells {
		for _, i := range c.cases {
			likelihood, known := 0.0, 0.0
			if prior := b.pool.prior[i]; prior > 0 && b.share[i] > 0 {
				likelihood, known = b.share[i]/prior, 1
			}
			root, held = append(root, likelihood), append(held, known)
		}
	}
	for range 8 {
		all, n := others, 0
		for _, c := range cells {
			var of size
			for _, i := range c.cases {
				root[n] = math.Sqrt(root[n])
				of.add(b.pool.prior[i] * (held[n] * root[n]))
				n++
			}
			if of.sum > 0 {
				by := c.whole / of.sum
				all = size{all.sum + c.whole, all.squares + by*by*of.squares}
			}
		}
		if all.cases() >= enough {
			for n, x := range root {
				held[n] *= x
			}
		}
	}
	out := slices.Clone(b.share)
	for _, c := range cells {
		sum := 0.0
		for n, i := range c.cases {
			out[i] = b.pool.prior[i] * held[n]
			sum += out[i]
		}
		for _, i := range c.cases {
			if sum > 0 {
				out[i] *= c.whole / sum
			}
		}
		held = held[len(c.cases):]
	}
	return out
}

// size is of how many cases of a system some shares are.
func (b *Belief) size(system int, shares []float64) (out size) {
	for i, share := range shares {
		if b.pool.system(i) == system {
			out.add(share)
		}
	}
	return out
}
