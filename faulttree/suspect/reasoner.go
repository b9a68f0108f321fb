package suspect

import (
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Reasoner weighs evidence over a population. Any number of goroutines may
// share one.
type Reasoner struct {
	meter    faulttree.Meter
	describe Describe
	assumed  Assumed
	pool     *pool
	kept     *refined
	late     bool
}

// refined keeps populations with further draws, by the strata that have them, so
// that a further reading need not draw them again.
type refined struct {
	sync.Mutex
	keys  []string // the oldest first
	pools map[string]*pool
}

// mostRefined is how many populations with further draws are kept.
const mostRefined = 2

// New is a reasoner over a population, for readings of a meter.
func New(p Population, m faulttree.Meter, d Describe) *Reasoner {
	r := &Reasoner{meter: m, describe: d, assumed: CommonPractice(), kept: &refined{pools: map[string]*pool{}}}
	r.pool = r.newPool(p)
	return r
}

// Assuming is the reasoner with other assumptions.
func (r *Reasoner) Assuming(a Assumed) *Reasoner {
	other := *r
	other.assumed = a
	other.kept = &refined{pools: map[string]*pool{}}
	return &other
}

// Late is the reasoner whose beliefs work out which dangers are open without the
// complaint only once they are asked for, which most of many beliefs never are.
func (r *Reasoner) Late() *Reasoner {
	other := *r
	other.late = true
	return &other
}

// Forget lets go of what is kept of the evidence that was weighed, to weigh more of it
// sooner.
func (r *Reasoner) Forget() {
	r.pool.forget()
	r.pool.equal.forget()
	r.kept.Lock()
	defer r.kept.Unlock()
	r.kept.keys, r.kept.pools = nil, map[string]*pool{}
}

// Belief is what the evidence says, in any order; taking a reading back is
// leaving it out. A belief is of one round, for after a repair the vehicle is
// another: evidence of earlier rounds than the last one among it is set aside.
// The order matters for one thing alone: a display that may have been frozen
// shows the last reading in the same unit. An error is what the population
// returns, or says which evidence is malformed.
func (r *Reasoner) Belief(ctx context.Context, evidence []Evidence) (*Belief, error) {
	round := 0
	for _, e := range evidence {
		round = max(round, e.Round)
	}
	of := slices.DeleteFunc(slices.Clone(evidence), func(e Evidence) bool { return e.Round != round })
	b, err := r.ofRound(ctx, of)
	if err != nil {
		return nil, err
	}
	b.round = round
	if slices.ContainsFunc(of, Evidence.isStory) {
		ctx = context.WithoutCancel(ctx)
		b.withoutStory = sync.OnceValues(func() (*Belief, error) {
			return r.ofRound(ctx, slices.DeleteFunc(slices.Clone(of), Evidence.isStory))
		})
		if !r.late {
			_, err = b.withoutStory()
		}
	}
	return b, err
}

// ofRound is the belief that evidence of one round makes.
func (r *Reasoner) ofRound(ctx context.Context, of []Evidence) (*Belief, error) {
	b, err := r.weigh(ctx, r.pool, of)
	if err != nil {
		return nil, err
	}
	var near []int
	if r.assumed.More > 0 {
		near = b.tooFew()
	}
	if len(near) == 0 {
		return b, nil
	}
	more, err := r.more(ctx, near)
	if err != nil {
		return nil, err
	}
	return r.weigh(ctx, more, of)
}

// more is the population with further draws of the strata of some cases.
func (r *Reasoner) more(ctx context.Context, near []int) (*pool, error) {
	names := lists.Each(near, func(i int) string { return stratum(r.pool.cases[i]) })
	key := strings.Join(names, "\x02")
	r.kept.Lock()
	defer r.kept.Unlock()
	if o, ok := r.kept.pools[key]; ok {
		return o, nil
	}
	p, err := r.pool.More(ctx, near, r.assumed.More*len(near))
	if err != nil {
		return nil, fmt.Errorf("further draws: %w", err)
	}
	o := r.newPool(p)
	if len(r.kept.keys) == mostRefined {
		delete(r.kept.pools, r.kept.keys[0])
		r.kept.keys = r.kept.keys[1:]
	}
	r.kept.keys = append(r.kept.keys, key)
	r.kept.pools[key] = o
	return o, nil
}

// Few is how many cases, as if all weighed the same, are too few to rest shares
// on; then more are drawn of the strata that hold nearly all, up to a number.
const (
	few        = 40
	nearlyAll  = 0.98
	mostStrata = 8
)

// tooFew lists one case of each stratum to draw more of, in order, or none where
// enough cases fit: those that hold most of the shares, and, for where few were drawn
// the stratum of the truth may have none that fits well, those that would if each
// reading told a third as much.
func (b *Belief) tooFew() []int {
	var near []int
	for s := range b.pool.systems {
		if b.systems[s].pieces == 0 {
			continue
		}
		share, milder := make([]float64, len(b.share)), make([]float64, len(b.share))
		var held size
		for i, w := range b.share {
			if prior := b.pool.prior[i]; b.pool.system(i) == s && prior > 0 {
				share[i] = w
				held.add(w)
				milder[i] = prior * math.Cbrt(w/prior)
			}
		}
		if held.squares > 0 && held.cases() < few {
			near = append(near, b.pool.strata(share, mostStrata/2)...)
			near = append(near, b.pool.strata(milder, mostStrata/2)...)
		}
	}
	slices.Sort(near)
	return slices.Compact(near)
}

// strata is the first case of each of the heaviest strata that together hold nearly
// all of some weights, up to a number.
func (o *pool) strata(weights []float64, most int) []int {
	at := map[string]int{}
	var held []float64
	var first []int
	all := 0.0
	for i, w := range weights {
		name := stratum(o.cases[i])
		n, met := at[name]
		if !met {
			n = len(held)
			at[name] = n
			held, first = append(held, 0), append(first, i)
		}
		held[n] += w
		all += w
	}
	var out []int
	enough := nearlyAll * all
	for _, n := range heaviest(held) {
		if enough <= 0 || len(out) == most {
			break
		}
		enough -= held[n]
		out = append(out, first[n])
	}
	return out
}
