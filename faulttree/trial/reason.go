package trial

import (
	"context"
	"errors"
	"fmt"
	"math"
	"slices"
	"sync"
	"sync/atomic"

	"faultwright/faulttree"
)

// What the reasoner is given: this many drawn rigs to learn from, and this
// many other walks to be judged by.
const (
	drawnRigs = 20000
	heldOut   = 1000
)

// evidence is what one draw shows to somebody who takes every reading.
type evidence struct {
	fault  int // -1 for a healthy rig
	values []float32
	number int
}

// The reasoner sees every reading open to a role, as the meter shows it, and
// knows the share of each fault among the draws. He is a committee of decision
// trees, each grown on the drawn rigs with readings and limits chosen by
// chance among the good ones; the shares of the faults in the leaves that a
// held-out vehicle falls into are his posterior. He names the likeliest fault
// with every fault at least half as likely, and earns 1/|group|; he names
// nothing where "no fault" is likeliest. His limits: he learns from a sample,
// so that a rare fault that needs three readings together can escape him, and
// he is then no upper bound. Hence the tree's share of the possible is clipped
// at 1.
func (t *trial) reason(ctx context.Context, n *tally, r *Report) error {
	own, possible := 0.0, 0.0
	for _, role := range roles {
		quantities, derived := t.open(role)
		sample, held, err := t.gather(ctx, quantities, derived)
		if err != nil {
			return err
		}
		committee, err := t.grow(ctx, sample)
		if err != nil {
			return err
		}
		w := t.newWorker()
		for _, e := range held {
			if e.fault < 0 {
				continue
			}
			group, share := committee.group(e, len(t.plan.faults))
			possible += share
			credit, err := w.creditOf(e.number, role)
			if err != nil {
				return err
			}
			if group > 0 {
				credit = min(credit, 1/float64(group))
			}
			own += credit
		}
		if role == faulttree.Owner {
			g := grower{classes: len(t.plan.faults) + 1, columns: len(quantities)}
			some := every(sample, greedyRigs)
			whole := g.entropy(some)
			leaf, asked := g.greedy(some, nil)
			r.OptimumMeasurements = asked
			r.EntropyBound = max(0, whole-leaf) / math.Log2(float64(t.outcomes()))
		}
	}
	if possible > 0 {
		r.IsolationOfPossible = min(1, own/possible)
	}
	r.Possible = possible / float64(max(1, 2*t.heldFaults()))
	return nil
}

// every picks at most n of a sample, spread evenly over it.
func every(sample []evidence, n int) []evidence {
	n = min(n, len(sample))
	out := make([]evidence, 0, n)
	for i := range n {
		out = append(out, sample[i*len(sample)/n])
	}
	return out
}

// outcomes is the most outcomes that a step of the tree tells apart: no
// reading answers more than the binary logarithm of it in bits.
func (t *trial) outcomes() int {
	most := 2
	for _, s := range t.plan.tree.Steps {
		if s.Kind == faulttree.KindMeasure {
			most = max(most, len(s.Branches)+2)
		}
	}
	return most
}

// open lists the quantities that a role may read on the way through the tree,
// and the sums and differences that its steps make of them.
func (t *trial) open(role faulttree.Role) ([]faulttree.Quantity, []*faulttree.Step) {
	var list []faulttree.Quantity
	var derived []*faulttree.Step
	seen := map[string]bool{}
	for _, id := range t.forest.Reached(t.plan.tree.ID) {
		for _, s := range t.forest.Trees[id].Steps {
			if s.Kind != faulttree.KindMeasure || s.For > role {
				continue
			}
			for _, v := range s.Measure {
				if !seen[v.Quantity.ID] {
					seen[v.Quantity.ID] = true
					list = append(list, v.Quantity)
				}
			}
			if len(s.Derive) > 0 {
				derived = append(derived, s)
			}
		}
	}
	return list, derived
}

// held lists the numbers of the draws to learn from and those held out.
func (t *trial) held() (learn, test []int) {
	n := t.plan.inside
	every := max(1, (n+drawnRigs-1)/drawnRigs)
	tests := min(heldOut, n/5)
	for i := range tests {
		test = append(test, i*n/tests+min(1, every-1))
	}
	for i := 0; i < n; i += every {
		if _, taken := slices.BinarySearch(test, i); !taken {
			learn = append(learn, i)
		}
	}
	return learn, test
}

func (t *trial) heldFaults() int {
	_, test := t.held()
	n := 0
	for _, number := range test {
		if s, ok := t.plan.of(number); ok && s.fault >= 0 {
			n++
		}
	}
	return n
}

// gather takes every reading of the draws to learn from and of those held out.
func (t *trial) gather(ctx context.Context, quantities []faulttree.Quantity, derived []*faulttree.Step) (learn, test []evidence, err error) {
	from, other := t.held()
	numbers := append(slices.Clone(from), other...)
	all := make([]evidence, len(numbers))
	var next atomic.Int64
	var wait sync.WaitGroup
	errs := make([]error, t.options.Workers)
	for k := range errs {
		wait.Go(func() {
			w := t.newWorker()
			for ctx.Err() == nil && errs[k] == nil {
				first := int(next.Add(block)) - block
				if first >= len(numbers) {
					return
				}
				for i := first; i < min(first+block, len(numbers)); i++ {
					if all[i], errs[k] = w.evidence(numbers[i], quantities, derived); errs[k] != nil {
						break
					}
				}
			}
		})
	}
	wait.Wait()
	if err := errors.Join(append(errs, ctx.Err())...); err != nil {
		return nil, nil, err
	}
	return all[:len(from)], all[len(from):], nil
}

// evidence takes every reading of one draw. Values are on a scale where small
// ones stand apart as large ones do; over-range lies above all, not taken
// below.
func (w *worker) evidence(number int, quantities []faulttree.Quantity, derived []*faulttree.Step) (evidence, error) {
	s, ok := w.plan.of(number)
	if !ok {
		return evidence{}, fmt.Errorf("the trial has no draw %d", number)
	}
	k, err := w.taker(s.rig)
	if err != nil {
		return evidence{}, err
	}
	k.begin(w.plan.make(s, number, w.options.Seed))
	e := evidence{fault: s.fault, number: number, values: make([]float32, 0, len(quantities)+len(derived))}
	for _, q := range quantities {
		e.values = append(e.values, scaled(k.reading(q, 1)))
	}
	for _, step := range derived {
		for _, d := range step.Derive {
			sum, fine := faulttree.Amount(0), true
			for _, term := range d.Terms {
				r := k.reading(step.Measure[term.Var].Quantity, 1)
				fine = fine && r.Numeric()
				sum += r.High * faulttree.Amount(term.Factor)
			}
			if !fine {
				e.values = append(e.values, notTaken)
				continue
			}
			e.values = append(e.values, scaled(faulttree.Reading{Low: sum, High: sum}))
		}
	}
	return e, k.err
}

const (
	notTaken = -1000
	overTop  = 1000
)

func scaled(r faulttree.Reading) float32 {
	switch r.Quality {
	case faulttree.NotPossible:
		return notTaken
	case faulttree.OverRange:
		return overTop
	}
	return float32(math.Asinh(r.High.Float() / 0.1))
}

// creditOf is what the tree earns for one draw in one role.
func (w *worker) creditOf(number int, role faulttree.Role) (float64, error) {
	s, _ := w.plan.of(number)
	k, err := w.taker(s.rig)
	if err != nil {
		return 0, err
	}
	k.begin(w.plan.make(s, number, w.options.Seed))
	walks := walker{trial: w.trial, taker: k}
	ends, err := walks.walk(role)
	if err != nil {
		return 0, err
	}
	least := 1.0
	for _, e := range ends {
		least = min(least, w.credit(s.fault, e.finding))
	}
	return least, nil
}
