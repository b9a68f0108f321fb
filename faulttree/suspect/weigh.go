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
	k := &tally{pool: o, evidence: evidence, none: make([]float64, len(o.systems)), cells: make([]float64, len(o.cells)), cases: make([]float64, len(o.cases)), product: make([]float64, len(o.cases))}
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
	// likelihood in each case by itself, to tell the cases of a cell apart: a
	// logarithm, and what is not in it yet
	cases, product []float64
}

// likelihood is how likely a piece of evidence is, as a share of what it is where
// everything is as it says: products of many stay within what a float can hold.
type likelihood struct {
	of       int       // index into the evidence
	in       []float32 // each case
	cells    []float64 // each cell, by the mean
	about    []bool    // whether it is about a system at all
	sound    []float64 // the sound vehicles of a system, or all where none is sound
	anything float64   // where nothing is known
}

// mean is a weighted mean.
type mean struct{ sum, weight float64 }

func (m *mean) add(o mean) { m.sum += o.sum; m.weight += o.weight }

// of is the mean, or another value where nothing was added.
func (m mean) of(otherwise float64) float64 {
	if m.weight > 0 {
		return m.sum / m.weight
	}
	return otherwise
}

// hear works out how likely a piece of evidence is. A case whose rig has no such
// quantity takes the mean of the others of its system: it tells nothing about
// which rig it is.
func (k *tally) hear(w *witness) {
	o := k.pool
	best := w.best()
	l := likelihood{
		of: w.at, in: make([]float32, len(o.cases)), cells: make([]float64, len(o.cells)),
		about: make([]bool, len(o.systems)), anything: w.anything() / best,
	}
	cells := make([]mean, len(o.cells))
	for i := range l.in {
		x := w.in(i) / best
		l.in[i] = float32(x)
		if x == x { // not NaN
			m := &cells[o.cell[i]]
			m.sum += o.prior[i] * x
			m.weight += o.prior[i]
		}
	}
	all := make([]mean, len(o.systems))
	for c, m := range cells {
		all[o.systemOf(c)].add(m)
	}
	for s, m := range all {
		l.about[s] = m.weight > 0
	}
	for c, m := range cells {
		l.cells[c] = m.of(all[o.systemOf(c)].of(1))
	}
	for i, x := range l.in {
		if x != x {
			l.in[i] = float32(all[o.system(i)].of(1))
		}
	}
	l.sound = o.sound(l.cells)
	k.by = append(k.by, l)
}

// systemOf is the system of a cell.
func (o *pool) systemOf(cell int) int { return o.kinds[o.cells[cell].kind].system }

// sound is the mean over the sound vehicles of each system, or over all where
// none is sound, of something that is known by cell.
func (o *pool) sound(cells []float64) []float64 {
	all, sound := make([]mean, len(o.systems)), make([]mean, len(o.systems))
	for c, x := range cells {
		m := mean{x * o.cells[c].prior, o.cells[c].prior}
		all[o.systemOf(c)].add(m)
		if len(o.kinds[o.cells[c].kind].faults) == 0 {
			sound[o.systemOf(c)].add(m)
		}
	}
	out := make([]float64, len(o.systems))
	for s := range out {
		out[s] = sound[s].of(all[s].of(0))
	}
	return out
}

// unlike is the logarithm of the likelihood of all evidence in a vehicle unlike
// any: each reading is as in a sound one, or anything, half and half.
func (k *tally) unlike(system int) float64 {
	sum := 0.0
	for _, l := range k.by {
		if l.about[system] {
			sum += math.Log((l.sound[system] + l.anything) / 2)
		}
	}
	return sum
}

// add weighs a block of readings, by the mean over the cases of each cell.
func (k *tally) add(system int, members []int) {
	o := k.pool
	for c := range o.cells {
		if o.systemOf(c) != system {
			continue
		}
		of := &o.cells[c]
		var m mean
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
			m.add(mean{o.prior[i] * p, o.prior[i]})
		}
		k.cells[c] += math.Log(m.of(1))
	}
}

// shares is the share of each case in its system; it sets those of "none of
// these". Where the evidence cannot be at all, nothing of what is drawn fits.
func (k *tally) shares(b *Belief, none float64) []float64 {
	o := k.pool
	most := make([]float64, len(o.systems))
	copy(most, k.none)
	for c, l := range k.cells {
		most[o.systemOf(c)] = max(most[o.systemOf(c)], l)
	}
	cells, sums := make([]float64, len(o.cells)), make([]float64, len(o.systems))
	for c, l := range k.cells {
		s := o.systemOf(c)
		if !math.IsInf(most[s], -1) {
			cells[c] = (1 - none) * o.cells[c].prior * math.Exp(l-most[s])
		}
		sums[s] += cells[c]
	}
	for s, fits := range sums {
		sums[s] += none * math.Exp(k.none[s]-most[s])
		b.systems[s].none = 1
		if fits > 0 {
			b.systems[s].none = 1 - fits/sums[s]
		}
	}
	share := make([]float64, len(o.cases))
	for c := range o.cells {
		if sum := sums[o.systemOf(c)]; sum > 0 {
			k.within(&o.cells[c], cells[c]/sum, share)
		}
	}
	return share
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

// aTest is how much less likely a fault has to make the evidence than a sound
// vehicle does, for the evidence to speak against it, or the other way round.
// Common practice, no source.
const aTest = 0.01

// verdict is what the evidence says of a fault beside a sound vehicle.
type verdict uint8

const (
	untested verdict = iota // about as likely in both: nothing read could have shown it
	against
	inFavour
)

// verdicts says by kind what the evidence is to it. It speaks against a cell only
// where it is clearly less likely than in a sound vehicle both taken piece by
// piece and all together, and against a kind only where it does so however bad the
// fault is: one that is too mild to show, or that nothing read could have shown,
// stays untested, however well another fault explains the readings.
func (k *tally) verdicts(b *Belief) []verdict {
	o := k.pool
	shown, joint := k.pieceByPiece(), k.allTogether()
	healthy := o.sound(joint)
	out := make([]verdict, len(o.kinds))
	first := make([]bool, len(o.kinds))
	for c := range o.cells {
		n, s := o.cells[c].kind, o.systemOf(c)
		v := untested
		switch {
		case b.systems[s].told == 0:
		case shown[c] < aTest && joint[c] < aTest*healthy[s]:
			v = against
		case healthy[s] < aTest*joint[c]:
			v = inFavour
		}
		if !first[n] {
			first[n], out[n] = true, v
		} else {
			out[n] = out[n].or(v)
		}
	}
	return out
}

// or is the verdict on a fault that is one thing or another: against it only where
// both are.
func (v verdict) or(w verdict) verdict {
	switch {
	case v == inFavour || w == inFavour:
		return inFavour
	case v == untested || w == untested:
		return untested
	}
	return against
}

// allTogether is, by cell, how likely all evidence is, as a share of what it is in
// the likeliest cell of the system.
func (k *tally) allTogether() []float64 {
	o := k.pool
	most := make([]float64, len(o.systems))
	for s := range most {
		most[s] = math.Inf(-1)
	}
	for c, l := range k.cells {
		most[o.systemOf(c)] = max(most[o.systemOf(c)], l)
	}
	out := make([]float64, len(o.cells))
	for c, l := range k.cells {
		if m := most[o.systemOf(c)]; !math.IsInf(m, -1) {
			out[c] = math.Exp(l - m)
		}
	}
	return out
}

// pieceByPiece is, by cell, the product of how much less likely than in a sound
// vehicle each piece of evidence is.
func (k *tally) pieceByPiece() []float64 {
	out := make([]float64, len(k.pool.cells))
	for c := range out {
		out[c] = 1
		for _, l := range k.by {
			if healthy := l.sound[k.pool.systemOf(c)]; healthy > 0 {
				out[c] *= min(1, l.cells[c]/healthy)
			}
		}
	}
	return out
}
