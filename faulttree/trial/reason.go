package trial

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
)

// What the classifier is given: this many drawn rigs to learn from, and this
// many others to be judged by. With a thousand of these the share of the
// possible moves by two points from seed to seed.
const (
	learnedFrom = 20000
	heldOut     = 4000
)

// observation is what one draw shows to somebody who takes every reading.
type observation struct {
	group  int // what is wrong, 0 for a healthy rig
	values []float32
}

// compareWithClassifier compares the tree with a classifier, which sees every
// reading open to a role, as the meter shows it, and knows the share of each
// fault among the draws. It is an ensemble of decision trees, each grown on the
// drawn rigs with readings and limits chosen by chance among the good ones; the
// shares of the faults in the leaves that a held-out vehicle falls into are its
// posterior.
//
// It has the minimum specificity that the trees have: of healthy rigs at most
// one in twenty may be called faulty. The healthy draws that its ensemble never
// saw give the threshold, how much likelier a fault must be than none. Where
// none is so likely it names nothing. Else it names the ambiguity group: the
// fewest faults that hold nine tenths of the probability of faults, and earns
// 1/|group| for each of them that is there. A tree that names fewer than the
// readings allow to tell apart earns no more than it does.
//
// Its limits: it learns from a sample, so that a rare fault that needs three
// readings together can escape it, and it is then no upper bound. Hence the
// tree's share of the possible is clipped at 1.
func (t *trial) compareWithClassifier(ctx context.Context, r *Report) error {
	own, possible, faults := 0.0, 0.0, 0
	for _, role := range roles {
		t.separable(role, r)
		sample, unseen, held := t.data.forRole(role)
		grown, err := t.grow(ctx, sample)
		if err != nil {
			return err
		}
		m := classifier{ensemble: grown, groups: t.plan.groups}
		m.calibrate(unseen)
		for i, e := range held {
			if e.group == 0 {
				continue
			}
			faults++
			group := m.ambiguityGroup(e)
			for _, f := range group {
				if slices.Contains(t.plan.groups[e.group-1], f) {
					possible += 1 / float64(len(group))
				}
			}
			credit := t.data.credits[role][i]
			if len(group) > 0 {
				credit = min(credit, 1/float64(len(group)))
			}
			own += credit
		}
		if role == faulttree.Owner {
			g := grower{classes: len(t.plan.groups) + 1, columns: t.data.quantityCount[role]}
			some := evenly(sample, greedyRigs)
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
	r.Possible = mean(possible, faults)
	return nil
}

// evenly picks at most n of a sample, spread evenly over it.
func evenly[T any](sample []T, n int) []T {
	n = min(n, len(sample))
	out := make([]T, 0, n)
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
		if !s.Reads() {
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
