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
	k := newTally(o)
	for i := range witnesses {
		if err := ctx.Err(); err != nil {
			return nil, err
		}
		k.add(b, &witnesses[i])
	}
	b.verdicts = k.verdicts(b)
	b.share = k.shares(b, r.assumed.NoneFits)
	return b, nil
}

// tally is the sums of a weighing while it goes on.
type tally struct {
	pool    *pool
	logs    []float64 // logarithm of the likelihood by case, but for what is in products
	product []float64 // by case
	now     []float64 // likelihood of the evidence in hand, by case
	none    []float64 // logarithm of the likelihood of "none of these", by system
	weights []float64 // prior by kind
	shown   []float64 // by kind: product of how much less likely than in sound vehicles each piece of evidence is
	added   int
}

func newTally(o *pool) *tally {
	k := &tally{
		pool: o, logs: make([]float64, len(o.cases)), product: make([]float64, len(o.cases)), now: make([]float64, len(o.cases)),
		none: make([]float64, len(o.systems)), weights: make([]float64, len(o.kinds)), shown: make([]float64, len(o.kinds)),
	}
	for i, p := range o.prior {
		k.product[i] = 1
		k.weights[o.kind[i]] += p
	}
	for i := range k.shown {
		k.shown[i] = 1
	}
	return k
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

// add weighs a piece of evidence. A case whose rig has no such quantity takes the
// mean of the others of its system: it tells nothing about which rig it is.
func (k *tally) add(b *Belief, w *witness) {
	o := k.pool
	kinds := make([]mean, len(o.kinds))
	for i := range k.now {
		l := w.in(i)
		k.now[i] = l
		if l == l { // not NaN
			m := &kinds[o.kind[i]]
			m.sum += o.prior[i] * l
			m.weight += o.prior[i]
		}
	}
	all, sound := make([]mean, len(o.systems)), o.sound(kinds)
	for i, m := range kinds {
		s := o.kinds[i].system
		all[s].add(m)
		if healthy := sound[s].of(0); healthy > 0 {
			k.shown[i] *= min(1, m.of(healthy)/healthy)
		}
	}
	for s := range o.systems {
		if all[s].weight > 0 { // else the system has no such thing
			b.systems[s].told++
			k.none[s] += math.Log((sound[s].of(0) + w.anything()) / 2)
		}
	}
	for i, l := range k.now {
		if l != l {
			l = all[o.system(i)].of(1)
		}
		k.product[i] *= l
	}
	k.added++
	if k.added%8 == 0 { // far from what a float cannot hold
		k.fold()
	}
}

// fold takes the products into the logarithms.
func (k *tally) fold() {
	for i, p := range k.product {
		k.logs[i] += math.Log(p)
		k.product[i] = 1
	}
}

// shares is the share of each case in its system; it sets those of "none of
// these". Where the evidence cannot be at all, nothing of what is drawn fits.
func (k *tally) shares(b *Belief, none float64) []float64 {
	k.fold()
	o := k.pool
	most := make([]float64, len(o.systems))
	for s := range most {
		most[s] = k.none[s]
	}
	for i, l := range k.logs {
		most[o.system(i)] = max(most[o.system(i)], l)
	}
	share := k.now
	sums := make([]float64, len(o.systems))
	for i, l := range k.logs {
		s := o.system(i)
		share[i] = 0
		if !math.IsInf(most[s], -1) {
			share[i] = (1 - none) * o.prior[i] * math.Exp(l-most[s])
		}
		sums[s] += share[i]
	}
	for s := range sums {
		fits := sums[s]
		sums[s] += none * math.Exp(k.none[s]-most[s])
		b.systems[s].none = 1
		if fits > 0 {
			b.systems[s].none = 1 - fits/sums[s]
		}
	}
	for i := range share {
		if s := o.system(i); sums[s] > 0 {
			share[i] /= sums[s]
		}
	}
	return share
}

// aTest is how much less likely a fault has to make the evidence than a sound
// vehicle does, for the evidence to speak against it, or the other way round.
const aTest = 0.1

// verdict is what the evidence says of a fault beside a sound vehicle.
type verdict uint8

const (
	untested verdict = iota // about as likely in both: nothing read could have shown it
	against
	inFavour
)

// verdicts says by kind what the evidence is to it. It speaks against one only
// where it is clearly less likely than in a sound vehicle both taken piece by
// piece and all together; so what no reading could have shown stays untested,
// however well another fault explains the readings.
func (k *tally) verdicts(b *Belief) []verdict {
	k.fold()
	o := k.pool
	most := make([]float64, len(o.systems))
	for s := range most {
		most[s] = math.Inf(-1)
	}
	for i, l := range k.logs {
		most[o.system(i)] = max(most[o.system(i)], l)
	}
	kinds := make([]mean, len(o.kinds))
	for i, l := range k.logs {
		if s := o.system(i); !math.IsInf(most[s], -1) {
			kinds[o.kind[i]].add(mean{o.prior[i] * math.Exp(l-most[s]), o.prior[i]})
		}
	}
	sound := o.sound(kinds)
	out := make([]verdict, len(o.kinds))
	for i, m := range kinds {
		s := o.kinds[i].system
		switch joint, healthy := m.of(0), sound[s].of(0); {
		case b.systems[s].told == 0:
		case k.shown[i] < aTest && joint < aTest*healthy:
			out[i] = against
		case healthy < aTest*joint:
			out[i] = inFavour
		}
	}
	return out
}

// sound is the mean of the sound vehicles of each system, or of all where none is
// sound.
func (o *pool) sound(kinds []mean) []mean {
	all, sound := make([]mean, len(o.systems)), make([]mean, len(o.systems))
	for i, m := range kinds {
		all[o.kinds[i].system].add(m)
		if len(o.kinds[i].faults) == 0 {
			sound[o.kinds[i].system].add(m)
		}
	}
	for s := range sound {
		if sound[s].weight == 0 {
			sound[s] = all[s]
		}
	}
	return sound
}
