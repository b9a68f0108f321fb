package suspect

import (
	"context"
	"math"
	"slices"
)

// systemBelief is what the evidence says of a system as a whole.
type systemBelief struct {
	told int     // how much evidence is about it
	none float64 // share of "none of these"
}

// weigh holds evidence of one round against a pool.
func (r *Reasoner) weigh(ctx context.Context, o *pool, evidence []Evidence) (*Belief, error) {
	witnesses, err := r.witnesses(ctx, o, evidence)
	if err != nil {
		return nil, err
	}
	b := &Belief{reasoner: r, pool: o, evidence: evidence, witnesses: witnesses, systems: make([]systemBelief, len(o.systems))}
	k := &tally{pool: o, evidence: evidence, none: make([]float64, len(o.systems)), cells: make([]float64, len(o.cells)), doubt: make([]float64, len(o.cells))}
	for left := witnesses; len(left) > 0; {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		n := 1
		for n < len(left) && evidence[left[n].at].what() == evidence[left[0].at].what() {
			n++
		}
		k.hear(left[:n])
		left = left[n:]
	}
	for s := range o.systems {
		k.none[s] = k.unlike(s)
		for _, l := range k.by {
			if l.about[s] {
				b.systems[s].told += l.pieces
			}
		}
		for _, g := range k.chain(s) {
			k.add(s, g)
		}
	}
	b.verdicts = k.verdicts(b)
	b.share = k.shares(b, r.assumed.NoneFits)
	b.kinds = make([]float64, len(o.kinds))
	for i, share := range b.share {
		b.kinds[o.kind[i]] += share
	}
	return b, nil
}

// tally is the sums of a weighing while it goes on.
type tally struct {
	pool     *pool
	evidence []Evidence
	by       []likelihood // by witness
	none     []float64    // logarithm of the likelihood of "none of these", by system
	cells    []float64    // logarithm of the likelihood, by cell
	doubt    []float64    // variance of that, for each cell has only so many cases
}

// shares is the share of each case in its system; it sets those of "none of
// these". Where the evidence cannot be at all, nothing of what is drawn fits.
func (k *tally) shares(b *Belief, none float64) []float64 {
	o := k.pool
	likeliest := make([]weighed, len(o.systems))
	for s := range likeliest {
		likeliest[s] = weighed{log: k.none[s] + math.Log(none)}
	}
	all, cells := k.kinds(math.Log(1 - none))
	for i, w := range all {
		if s := o.kinds[i].system; w.log > likeliest[s].log {
			likeliest[s] = w
		}
	}
	kinds, sums := make([]float64, len(o.kinds)), make([]float64, len(o.systems))
	for i, w := range all {
		s := o.kinds[i].system
		kinds[i] = w.beside(likeliest[s])
		sums[s] += kinds[i]
	}
	for s, fits := range sums {
		sums[s] += weighed{log: k.none[s] + math.Log(none)}.beside(likeliest[s])
		b.systems[s].none = 1
		if fits > 0 {
			b.systems[s].none = 1 - fits/sums[s]
		}
	}
	for c := range o.cells {
		cells[c] *= kinds[o.cells[c].kind]
	}
	share := make([]float64, len(o.cases))
	for c := range o.cells {
		if sum := sums[o.systemOf(c)]; sum > 0 {
			k.within(&o.cells[c], cells[c]/sum, share)
		}
	}
	return share
}

// kinds is how likely each kind is, its prior with it and a logarithm besides, and
// the part that each cell has in its kind.
func (k *tally) kinds(besides float64) (all []weighed, parts []float64) {
	o := k.pool
	all, parts = make([]weighed, len(o.kinds)), make([]float64, len(o.cells))
	at := func(c int) float64 { return k.cells[c] + math.Log(o.cells[c].prior) + besides }
	for i := range all {
		all[i].log = math.Inf(-1)
	}
	for c := range o.cells {
		w := &all[o.cells[c].kind]
		w.log = max(w.log, at(c))
	}
	sums := make([]float64, len(o.kinds))
	for c := range parts {
		if i := o.cells[c].kind; !math.IsInf(all[i].log, -1) {
			parts[c] = math.Exp(at(c) - all[i].log)
			sums[i] += parts[c]
		}
	}
	for c := range parts {
		if i := o.cells[c].kind; sums[i] > 0 {
			parts[c] /= sums[i]
			all[i].variance += parts[c] * parts[c] * k.doubt[c]
		}
	}
	for i, sum := range sums {
		if sum > 0 {
			all[i].log += math.Log(sum)
		}
	}
	return all, parts
}

// weighed is the logarithm of how likely something is, and the variance of that.
type weighed struct{ log, variance float64 }

// beside is how likely it is as a multiple of the likeliest. What the two are apart
// counts for the less, the more doubtful it is: a logistic function averaged over a
// normal error, as D. J. C. MacKay approximates it (Neural Computation 4, 1992).
func (w weighed) beside(likeliest weighed) float64 {
	if math.IsInf(w.log, -1) {
		return 0
	}
	return math.Exp((w.log - likeliest.log) / math.Sqrt(1+math.Pi/8*(w.variance+likeliest.variance)))
}

// hardly is a share of a cell below which its cases are not told apart.
const hardly = 1e-9

// within shares out what a cell has among its cases, by how well each fits all
// evidence.
func (k *tally) within(c *cell, whole float64, share []float64) {
	fits := make([]float64, len(c.cases))
	if whole > hardly {
		for _, l := range k.by {
			for n, i := range c.cases {
				fits[n] += math.Log(float64(l.in[i]))
			}
		}
	}
	most, sum := slices.Max(fits), 0.0
	for n, i := range c.cases {
		share[i] = k.pool.prior[i]
		if !math.IsInf(most, -1) {
			share[i] *= math.Exp(fits[n] - most)
		}
		sum += share[i]
	}
	for _, i := range c.cases {
		if sum > 0 {
			share[i] *= whole / sum
		}
	}
}
