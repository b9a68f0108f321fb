package suspect

import (
	"context"
	"math"
	"slices"
	"sync"
)

// systemBelief is what the evidence says of a system as a whole.
type systemBelief struct {
	pieces int     // how much evidence is about it
	none   float64 // share of "none of these"
}

// weigh is the belief that evidence of one round makes of the cases of a pool.
func (r *Reasoner) weigh(ctx context.Context, o *pool, evidence []Evidence) (*Belief, error) {
	pieces, err := r.pieces(ctx, o, evidence)
	if err != nil {
		return nil, err
	}
	many := len(pieces) > fewReadings
	if many {
		o = o.equal
		for i := range pieces {
			if w := &pieces[i]; w.reading != nil {
				w.away = w.findAway()
			}
		}
	}
	b := &Belief{reasoner: r, pool: o, evidence: evidence, pieces: pieces, systems: make([]systemBelief, len(o.systems))}
	k := &weighing{pool: o, near: float64(r.assumed.Near), evidence: evidence, logNone: make([]float64, len(o.systems)), logCells: make([]float64, len(o.cells)), logExtremes: make([]float64, len(o.cells)), variance: make([]float64, len(o.cells))}
	k.room = o.rooms.Get().(*room)
	defer o.rooms.Put(k.room)
	k.influence = k.room.clear(len(o.cases))
	var same [][]piece // by what they are about
	for left := pieces; len(left) > 0; {
		n := 1
		for n < len(left) && evidence[left[n].at].subject() == evidence[left[0].at].subject() {
			n++
		}
		same, left = append(same, left[:n]), left[n:]
	}
	k.likelihoods = make([]likelihood, len(same))
	eachPart(len(same), func(_, from, to int) {
		for j := from; j < to && ctx.Err() == nil; j++ {
			k.likelihoods[j] = k.likelihoodOf(same[j])
		}
	})
	if err := ctx.Err(); err != nil {
		return nil, err
	}
	for s := range o.systems {
		k.logNone[s] = k.logNoneOfThese(s)
		for _, l := range k.likelihoods {
			if l.about[s] {
				b.systems[s].pieces += l.pieces
			}
		}
		for _, g := range k.chain(s) {
			k.addReading(s, g, many)
		}
	}
	k.joinExtremes()
	k.variances()
	b.share = k.shares(b, r.assumed.NoneFits)
	k.forgetCases()
	b.evened = b.later()
	b.verdicts = sync.OnceValue(func() []verdict { return k.verdicts(b) })
	b.kinds = make([]float64, len(o.kinds))
	for i, share := range b.share {
		b.kinds[o.kind[i]] += share
	}
	return b, nil
}

// weighing is what is summed up while a belief is made.
type weighing struct {
	pool        *pool
	near        float64 // see [Assumed]
	evidence    []Evidence
	likelihoods []likelihood // by what pieces of evidence are about
	logNone     []float64    // logarithm of the likelihood of "none of these", by system
	logCells    []float64    // logarithm of the likelihood, by cell
	logExtremes []float64    // the same if readings far beyond what was drawn are right
	influence   []float64    // by case: how far it moves the likelihood of its cell
	variance    []float64    // variance of that, for each cell has only so many cases
	room        *room
}

// room is memory for weighing, which the next belief uses again.
type room struct {
	influence []float64
	parts     [mostParts]partRoom
}

// partRoom is memory by case of a cell.
type partRoom struct{ fits, in []float64 }

// clear is room for a number by case, nothing in it.
func (r *room) clear(cases int) []float64 {
	r.influence = slices.Grow(r.influence[:0], cases)[:cases]
	clear(r.influence)
	return r.influence
}

// forgetCases lets go of what is known by case. What the verdicts take stays.
func (k *weighing) forgetCases() {
	k.influence, k.room = nil, nil
	for i := range k.likelihoods {
		k.likelihoods[i].in = nil
	}
}

// shares is the posterior probability of each case in its system; it sets that of
// "none of these" in the belief, which is 1 where the evidence is impossible in every
// case. None is the prior of "none of these".
func (k *weighing) shares(b *Belief, none float64) []float64 {
	o := k.pool
	likeliest := make([]logWeight, len(o.systems))
	for s := range likeliest {
		likeliest[s] = logWeight{log: k.logNone[s] + math.Log(none)}
	}
	all, cells := k.logKinds(math.Log(1 - none))
	for i, w := range all {
		if s := o.kinds[i].system; w.log > likeliest[s].log {
			likeliest[s] = w
		}
	}
	kinds, sums := make([]float64, len(o.kinds)), make([]float64, len(o.systems))
	for i, w := range all {
		s := o.kinds[i].system
		kinds[i] = w.relativeTo(likeliest[s])
		sums[s] += kinds[i]
	}
	for s, fits := range sums {
		sums[s] += logWeight{log: k.logNone[s] + math.Log(none)}.relativeTo(likeliest[s])
		b.systems[s].none = 1
		if fits > 0 {
			b.systems[s].none = 1 - fits/sums[s]
		}
	}
	for c := range o.cells {
		cells[c] *= kinds[o.cells[c].kind]
	}
	share := make([]float64, len(o.cases))
	eachPart(len(o.cells), func(part, from, to int) {
		room := &k.room.parts[part]
		for c := from; c < to; c++ {
			if sum := sums[o.systemOf(c)]; sum > 0 {
				room.fits = k.shareCases(&o.cells[c], cells[c]/sum, share, room.fits[:0])
			}
		}
	})
	return share
}

// logKinds is the logarithm of prior times likelihood of each kind, with another
// logarithm added, and the part that each cell has in its kind.
func (k *weighing) logKinds(besides float64) (all []logWeight, parts []float64) {
	o := k.pool
	all, parts = make([]logWeight, len(o.kinds)), make([]float64, len(o.cells))
	at := func(c int) float64 { return k.logCells[c] + math.Log(o.cells[c].prior) + besides }
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
			all[i].variance += parts[c] * parts[c] * k.variance[c]
		}
	}
	for i, sum := range sums {
		if sum > 0 {
			all[i].log += math.Log(sum)
		}
	}
	return all, parts
}

// logWeight is the logarithm of a likelihood, or of one times its prior, and the
// variance of that logarithm, since only so many cases are drawn.
type logWeight struct{ log, variance float64 }

// relativeTo is the weight as a multiple of the likeliest. The difference of the two
// counts the less, the larger its variance is: a logistic function averaged over a
// normal error, as D. J. C. MacKay approximates it (Neural Computation 4, 1992).
func (w logWeight) relativeTo(likeliest logWeight) float64 {
	if math.IsInf(w.log, -1) {
		return 0
	}
	return math.Exp((w.log - likeliest.log) / math.Sqrt(1+math.Pi/8*(w.variance+likeliest.variance)))
}

// negligible is the share of a cell below which its cases are not told apart.
const negligible = 1e-9

// atATime is of how many likelihoods one logarithm is taken: the product of so many
// numbers of 32 bits does not underflow.
const atATime = 6

// shareCases divides the share of a cell among its cases, by prior and likelihood. It
// returns the room that it took.
func (k *weighing) shareCases(c *cell, whole float64, share, fits []float64) []float64 {
	fits = slices.Grow(fits, len(c.cases))[:len(c.cases)]
	clear(fits)
	if whole > negligible {
		for from := 0; from < len(k.likelihoods); from += atATime {
			some := k.likelihoods[from:min(from+atATime, len(k.likelihoods))]
			for n, i := range c.cases {
				product := 1.0
				for j := range some {
					product *= float64(some[j].in[i])
				}
				fits[n] += math.Log(product)
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
	return fits
}
