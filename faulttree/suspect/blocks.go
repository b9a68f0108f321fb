package suspect

import (
	"cmp"
	"math"
	"slices"
)

// What a vehicle reads depends on far more numbers than could be drawn together:
// loads, supply, soil, leaks, capacitances. With many readings hardly any drawn
// vehicle is near in all of them, and chance would decide. So readings are weighed
// in blocks: those that go together, because they depend on the same numbers, by
// the same vehicle; one block apart from the other, each over all vehicles of a
// cell. Blocks that depend on each other are joined as long as enough cases fit the
// whole, so that with few readings the belief is exact.

// block is readings that are weighed together.
type block struct {
	members []int     // witnesses
	fits    []float64 // by probe: product of their likelihoods, the largest near 1
}

// enoughFit is how many cases of a cell, as if all weighed the same, have to fit a
// block.
const enoughFit = 4

// certain is by how many times its variance a dependence has to stand out.
const certain = 4

// mostProbes is how many cases blocks are tried on.
const mostProbes = 800

// probes are the cases that blocks are tried on: those of the cells that fit best.
type probes struct {
	cases []int
	cell  []int     // of each probe, counted from 0
	share []float64 // of each of these cells
	prior []float64 // of each probe within its cell
}

// blocksOf joins the readings of a system to blocks: those that go together most
// come first.
func (k *tally) blocksOf(system int) [][]int {
	p := k.probesOf(system)
	var blocks []block
	same := map[string]int{} // what was read more than once is one block from the start
	for j, l := range k.by {
		if !l.about[system] {
			continue
		}
		n := intern(same, k.evidence[l.of].what())
		if n == len(blocks) {
			blocks = append(blocks, block{fits: p.fits(l.in)})
		} else {
			blocks[n].fits = joined(blocks[n].fits, p.fits(l.in))
		}
		blocks[n].members = append(blocks[n].members, j)
	}
	of := make([]int, len(blocks)) // the block that each has become part of
	for i := range of {
		of[i] = i
	}
	refused := map[[2]int]bool{}
	for _, pair := range p.pairs(blocks) {
		a, b := min(of[pair.a], of[pair.b]), max(of[pair.a], of[pair.b])
		if a == b || refused[[2]int{a, b}] {
			continue
		}
		fits := joined(blocks[a].fits, blocks[b].fits)
		if !p.depend(blocks[a].fits, blocks[b].fits) || !p.enough(fits) {
			refused[[2]int{a, b}] = true
			continue
		}
		blocks[a] = block{append(blocks[a].members, blocks[b].members...), fits}
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

// pair is two readings and how closely they go together.
type pair struct {
	a, b     int
	together float64
}

// pairs lists the pairs of some readings by how closely they go together within
// cells, by the correlation of how likely they are.
func (p *probes) pairs(single []block) []pair {
	off := make([][]float64, len(single))
	for n, s := range single {
		off[n] = p.deviations(s.fits)
	}
	var out []pair
	for b := range off {
		for a := range b {
			sum := 0.0
			for i, x := range off[a] {
				sum += x * off[b][i]
			}
			if p.depend(single[a].fits, single[b].fits) {
				out = append(out, pair{a, b, math.Abs(sum)})
			}
		}
	}
	slices.SortStableFunc(out, func(x, y pair) int { return cmp.Compare(y.together, x.together) })
	return out
}

// depend reports whether two readings depend on each other more than by chance: what
// is lost by weighing them apart, a logarithm, beside what chance adds to it where few
// cases fit both.
func (p *probes) depend(a, b []float64) bool {
	n := len(p.share)
	both, squares, one, other := make([]float64, n), make([]float64, n), make([]float64, n), make([]float64, n)
	for i, c := range p.cell {
		w := p.prior[i] * a[i] * b[i]
		both[c] += w
		squares[c] += w * w
		one[c] += p.prior[i] * a[i]
		other[c] += p.prior[i] * b[i]
	}
	lost, chance := 0.0, 0.0
	for c, sum := range both {
		if sum > 0 {
			apart := math.Log(sum / (one[c] * other[c]))
			lost += apart * apart
			chance += squares[c] / (sum * sum)
		}
	}
	return lost > certain*chance
}

// deviations is how far each probe is from the mean of its cell, as a share of
// it; the sum of their squares is 1, or 0 where none is.
func (p *probes) deviations(fits []float64) []float64 {
	means := make([]float64, len(p.share))
	for i, c := range p.cell {
		means[c] += p.prior[i] * fits[i]
	}
	out, squares := make([]float64, len(fits)), 0.0
	for i, c := range p.cell {
		if means[c] > 0 {
			out[i] = math.Sqrt(p.prior[i]*p.share[c]) * (fits[i]/means[c] - 1)
			squares += out[i] * out[i]
		}
	}
	for i := range out {
		if squares > 0 {
			out[i] /= math.Sqrt(squares)
		}
	}
	return out
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
		p.share = append(p.share, math.Exp(scores[c]-scores[order[0]]))
	}
	return p
}

// fits is the likelihoods of the probes, the largest 1.
func (p *probes) fits(l []float32) []float64 {
	out := make([]float64, len(p.cases))
	for n, i := range p.cases {
		out[n] = float64(l[i])
	}
	return scaled(out)
}

// scaled makes the largest of some weights 1.
func scaled(w []float64) []float64 {
	if most := slices.Max(append(w, 0)); most > 0 {
		for i := range w {
			w[i] /= most
		}
	}
	return w
}

// joined is the product of two blocks.
func joined(a, b []float64) []float64 {
	out := make([]float64, len(a))
	for i := range a {
		out[i] = a[i] * b[i]
	}
	return scaled(out)
}

// enough reports whether enough cases fit a block, by the mean over the cells.
func (p *probes) enough(fits []float64) bool {
	sum, squares := make([]float64, len(p.share)), make([]float64, len(p.share))
	for i, c := range p.cell {
		w := p.prior[i] * fits[i]
		sum[c] += w
		squares[c] += w * w
	}
	few, all := 0.0, 0.0
	for c, share := range p.share {
		if sum[c] > 0 {
			few += share * squares[c] / (sum[c] * sum[c]) // one over how many fit
		}
		all += share
	}
	return few*enoughFit <= all
}
