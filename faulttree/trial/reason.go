package trial

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
)

// What the reasoner is given: this many drawn rigs to learn from, and this
// many others to be judged by. With a thousand of these the share of the
// possible moves by two points from seed to seed.
const (
	drawnRigs = 20000
	heldOut   = 4000
)

// evidence is what one draw shows to somebody who takes every reading.
type evidence struct {
	kind   int // what is wrong, 0 for a healthy rig
	values []float32
}

// The reasoner sees every reading open to a role, as the meter shows it, and
// knows the share of each fault among the draws. He is a committee of decision
// trees, each grown on the drawn rigs with readings and limits chosen by
// chance among the good ones; the shares of the faults in the leaves that a
// held-out vehicle falls into are his posterior.
//
// He has the duty that the trees have: of healthy rigs at most one in twenty
// may be called faulty. On the healthy draws that his committee never saw he
// learns how much likelier a fault must be than none. Where none stands out
// so far he names nothing. Else he names the ambiguity group: the fewest
// faults that hold nine tenths of his belief in faults, and earns 1/|group| for
// each of them that is there. A tree that names fewer than the readings
// allow to tell apart earns no more than he does.
//
// His limits: he learns from a sample, so that a rare fault that needs three
// readings together can escape him, and he is then no upper bound. Hence the
// tree's share of the possible is clipped at 1.
func (t *trial) reason(ctx context.Context, r *Report) error {
	own, possible, faults := 0.0, 0.0, 0
	for _, role := range roles {
		t.separable(role, r)
		sample, unseen, held := t.study.of(role)
		grown, err := t.grow(ctx, sample)
		if err != nil {
			return err
		}
		m := mind{committee: grown, kinds: t.plan.kinds}
		m.calibrate(unseen)
		for i, e := range held {
			if e.kind == 0 {
				continue
			}
			faults++
			group := m.group(e)
			for _, f := range group {
				if slices.Contains(t.plan.kinds[e.kind-1], f) {
					possible += 1 / float64(len(group))
				}
			}
			credit := t.study.credits[role][i]
			if len(group) > 0 {
				credit = min(credit, 1/float64(len(group)))
			}
			own += credit
		}
		if role == faulttree.Owner {
			g := grower{classes: len(t.plan.kinds) + 1, columns: t.study.single[role]}
			some := every(sample, greedyRigs)
			whole := g.entropy(some)
			left, asked := g.greedy(ctx, some, nil)
			if err := ctx.Err(); err != nil {
				return err
			}
			r.OptimumMeasurements = asked
			r.EntropyBound = max(0, whole-left) / math.Log2(float64(t.outcomes()))
		}
	}
	if possible > 0 {
		r.IsolationOfPossible = min(1, own/possible)
	}
	r.Possible = ratio(possible, faults)
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

// outcomes is the most ways on that the tree has after one reading: no reading
// answers more than the binary logarithm of it in bits. Where a weigh step lies
// ahead, each step or finding that it can lead to is one.
func (t *trial) outcomes() int {
	most := 2
	for _, s := range t.plan.tree.Steps {
		if s.Kind != faulttree.KindMeasure {
			continue
		}
		ways := 0
		for _, e := range s.Exits() {
			ways += t.waysOn(e.To)
		}
		most = max(most, ways)
	}
	return most
}

// waysOn is how many steps that a walk can stand on come next, weigh steps being
// passed.
func (t *trial) waysOn(from faulttree.Ref) int {
	seen, n := map[faulttree.Ref]bool{from: true}, 0
	for queue := []faulttree.Ref{from}; len(queue) > 0; queue = queue[1:] {
		s := t.forest.Step(queue[0])
		if s == nil || s.Kind != faulttree.KindWeigh {
			n++
			continue
		}
		for _, e := range s.Exits() {
			if !seen[e.To] {
				seen[e.To] = true
				queue = append(queue, e.To)
			}
		}
	}
	return n
}
