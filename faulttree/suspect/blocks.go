package suspect

import (
	"cmp"
	"math"
	"slices"
)

// What a vehicle reads depends on far more numbers than could be drawn together:
// loads, supply, soil, leaks, capacitances. With many readings hardly any drawn
// vehicle is near in all of them, and chance would decide. So readings are weighed
// in blocks: within one by the same vehicle, one block apart from the other, each
// over all vehicles of a cell. Two blocks are joined where it matters more that
// they depend on each other than that few vehicles fit both. With few readings and
// many vehicles that is wherever they do, and the belief is exact.

// block is readings that are weighed together.
type block struct {
	members []int     // witnesses
	fits    []float64 // by probe: product of their likelihoods
	means   []float64 // of fits, by cell of the probes
}

// enoughFit is how many cases of a cell, as if all weighed the same, have to fit a
// block at least.
const enoughFit = 4

// mostProbes is how many cases blocks are tried on.
const mostProbes = 600

// probes are the cases that blocks are tried on: those of the cells that fit best.
type probes struct {
	cases []int
	prior []float64 // of each within its cell
	cell  []int     // of each, counted from 0
	cells int       // how many these are

	sum, squares []float64 // scratch of gain
}

// blocksOf joins the readings of a system to blocks: those to which it matters most
// come first.
func (k *tally) blocksOf(system int) [][]int {
	p := k.probesOf(system)
	var blocks []block
	same := map[string]int{} // what was read more than once is one block from the start
	for j, l := range k.by {
		if !l.about[system] {
			continue
		}
		one := p.block([]int{j}, p.fits(l.in))
		n := intern(same, k.evidence[l.of].what())
		if n == len(blocks) {
			blocks = append(blocks, one)
		} else {
			blocks[n] = p.joined(blocks[n], one)
		}
	}
	of := make([]int, len(blocks)) // the block that each has become part of
	for i := range of {
		of[i] = i
	}
	for _, pair := range p.pairs(blocks) {
		a, b := min(of[pair.a], of[pair.b]), max(of[pair.a], of[pair.b])
		if a == b {
			continue
		}
		if p.gain(blocks[a], blocks[b]) <= 0 {
			continue
		}
		blocks[a] = p.joined(blocks[a], blocks[b])
		for i := range of {
			if of[i] == b {
				of[i] = a
			}
		}
	}
	var out [][]int
	for i, n := range of {
		if i == n {
			out = append(out, blocks[i].members)
		}
	}
	return out
}

// pair is two readings and what it gains to weigh them together.
type pair struct {
	a, b int
	gain float64
}

// pairs lists the pairs of readings that gain by being weighed together, the most
// first.
func (p *probes) pairs(single []block) []pair {
	var out []pair
	for b := range single {
		for a := range b {
			if gain := p.gain(single[a], single[b]); gain > 0 {
				out = append(out, pair{a, b, gain})
			}
		}
	}
	slices.SortStableFunc(out, func(x, y pair) int { return cmp.Compare(y.gain, x.gain) })
	return out
}

// block is a block of some readings.
func (p *probes) block(members []int, fits []float64) block {
	b := block{members, fits, make([]float64, p.cells)}
	for i, c := range p.cell {
		b.means[c] += p.prior[i] * fits[i]
	}
	return b
}

// certain is by how many times its variance a dependence has to stand out.
const certain = 4

// gain is what it gains to weigh two blocks together: the square of what is lost
// by weighing them apart, as a logarithm, less so many times the variance of what
// chance adds where few cases fit both, over all cells alike: what stands out in
// one of them may be chance. Where too few fit both there is none.
func (p *probes) gain(a, b block) float64 {
	p.sum, p.squares = p.sum[:0], p.squares[:0]
	for range p.cells {
		p.sum, p.squares = append(p.sum, 0), append(p.squares, 0)
	}
	for i, c := range p.cell {
		w := p.prior[i] * a.fits[i] * b.fits[i]
		p.sum[c] += w
		p.squares[c] += w * w
	}
	gain, few := 0.0, 0.0
	for c, sum := range p.sum {
		if sum == 0 {
			return 0
		}
		variance := p.squares[c] / (sum * sum) // one over how many fit
		lost := math.Log(sum / (a.means[c] * b.means[c]))
		gain += lost*lost - certain*variance
		few += variance
	}
	if few*enoughFit > float64(p.cells) {
		return 0
	}
	return gain
}

// joined is two blocks as one.
func (p *probes) joined(a, b block) block {
	fits := make([]float64, len(a.fits))
	for i, x := range a.fits {
		fits[i] = x * b.fits[i]
	}
	return p.block(append(a.members, b.members...), fits)
}

// probesOf takes the cells of a system in which each reading by itself is likeliest.
func (k *tally) probesOf(system int) probes {
	o := k.pool
	scores := make([]float64, len(o.cells))
	for c := range scores {
		scores[c] = math.Inf(-1)
		if o.kinds[o.cells[c].kind].system == system && o.cells[c].prior > 0 {
			scores[c] = math.Log(o.cells[c].prior)
			for _, l := range k.by {
				scores[c] += math.Log(l.cells[c])
			}
		}
	}
	var p probes
	order := heaviest(scores)
	for n, c := range order {
		if math.IsInf(scores[c], -1) || n > 0 && len(p.cases)+len(o.cells[c].cases) > mostProbes {
			break
		}
		for _, i := range o.cells[c].cases {
			p.cases = append(p.cases, i)
			p.cell = append(p.cell, n)
			p.prior = append(p.prior, o.prior[i]/o.cells[c].prior)
		}
		p.cells++
	}
	return p
}

// fits is the likelihoods of the probes.
func (p *probes) fits(l []float32) []float64 {
	out := make([]float64, len(p.cases))
	for n, i := range p.cases {
		out[n] = float64(l[i])
	}
	return out
}
