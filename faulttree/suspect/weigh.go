package suspect

import (
	"context"
	"math"
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
	k := &tally{pool: o, evidence: evidence, none: make([]float64, len(o.systems)), cells: make([]float64, len(o.cells)), doubt: make([]float64, len(o.cells)), cases: make([]float64, len(o.cases)), product: make([]float64, len(o.cases))}
	for i := range k.product {
		k.product[i] = 1
	}
	for i := range witnesses {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		k.hear(&witnesses[i])
	}
	for s := range o.systems {
		k.none[s] = k.unlike(s)
		for _, l := range k.by {
			if l.about[s] {
				b.systems[s].told++
			}
		}
		for _, members := range k.blocksOf(s) {
			k.add(s, members)
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
	// likelihood in each case by itself, to tell the cases of a cell apart: a
	// logarithm, and what is not in it yet
	cases, product []float64
}

// add weighs a block of readings, by the mean over the cases of each cell. So few
// are drawn that the mean is doubtful: the more so, the fewer of them fit.
func (k *tally) add(system int, members []int) {
	o := k.pool
	for c := range o.cells {
		if o.systemOf(c) != system {
			continue
		}
		of := &o.cells[c]
		var m mean
		fit, drawn := 0.0, 0.0 // sums of squares
		for _, i := range of.cases {
			p := 1.0
			for _, j := range members {
				p *= float64(k.by[j].in[i])
			}
			k.product[i] *= p
			if k.product[i] < 1e-100 { // far from what a float cannot hold
				k.cases[i] += math.Log(k.product[i])
				k.product[i] = 1
			}
			w := o.prior[i]
			m.add(mean{w * p, w})
			fit += w * p * w * p
			drawn += w * w
		}
		k.cells[c] += math.Log(m.of(1))
		if m.sum > 0 {
			k.doubt[c] += max(0, fit/(m.sum*m.sum)-drawn/(m.weight*m.weight))
		}
	}
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

// within shares out what a cell has among its cases.
func (k *tally) within(c *cell, whole float64, share []float64) {
	most, sum := math.Inf(-1), 0.0
	for _, i := range c.cases {
		k.cases[i] += math.Log(k.product[i])
		most = max(most, k.cases[i])
	}
	for _, i := range c.cases {
		share[i] = k.pool.prior[i]
		if !math.IsInf(most, -1) {
			share[i] *= math.Exp(k.cases[i] - most)
		}
		sum += share[i]
	}
	for _, i := range c.cases {
		if sum > 0 {
			share[i] *= whole / sum
		}
	}
}
