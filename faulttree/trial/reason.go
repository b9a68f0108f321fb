package trial

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

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
	place  faulttree.Place
	values []float32
}

// compareWithClassifier compares the tree with a classifier, which sees every
// reading that walks of a role take, as finely as a verdict may rest on it (see told), and
// knows the share of each fault among the draws. It is an ensemble of decision trees, each grown on the
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
// A second one is asked not for the fault but for what is to be done about it, the
// place and who repairs, and names the fewest such errands. What either names
// together is what no reading of the tree tells apart.
//
// Its limits: it learns from a sample, so that a rare fault that needs three
// readings together can escape it, and it is then no upper bound. Hence the
// tree's share of the possible is clipped at 1.
func (t *trial) compareWithClassifier(ctx context.Context, n *tally, r *Report) error {
	byFault, byTask := newPossible(), newPossible()
	e := t.newErrands()
	tasks := t.taskCredits(n, e)
	for _, role := range roles {
		t.separable(role, r)
		sample, unseen, held := t.data.forRole(role)
		columns := t.data.takenColumns(role, n.gates[role])
		sample, unseen, held = narrowed(sample, columns), narrowed(unseen, columns), narrowed(held, columns)
		var faults []int
		for _, o := range held {
			faults = append(faults, t.plan.fault(o.group))
		}
		name := func(fault int) string { return t.plan.id(fault) }
		if err := byFault.compare(ctx, t, t.plan.groups, name, sample, unseen, held, faults, t.data.credits[role]); err != nil {
			return err
		}
		name = func(k int) string { return e.tasks[k].String() }
		if err := byTask.compare(ctx, t, e.sets, name, e.relabelled(sample), unseen, e.relabelled(held), faults, tasks[role]); err != nil {
			return err
		}
		if role == faulttree.Owner {
			single := slices.IndexFunc(columns, func(c int) bool { return c >= t.data.quantityCount[role] })
			if single < 0 {
				single = len(columns)
			}
			g := grower{classes: len(t.plan.groups) + 1, columns: single}
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
	r.IsolationOfPossible, r.Possible, r.Together = byFault.share(), mean(byFault.can, byFault.walks), byFault.groups()
	r.TaskOfPossible, r.TaskPossible, r.TasksTogether = byTask.share(), mean(byTask.can, byTask.walks), byTask.groups()
	r.Missed = byTask.misses()
	return nil
}

// possible compares what a tree earns with what a classifier earns that sees every
// reading, over vehicles with a fault that neither knows.
type possible struct {
	own, can float64
	walks    int
	together map[string]int // by names, how often several are named of which one is there
	missed   map[int]*Missed
}

func newPossible() *possible {
	return &possible{together: map[string]int{}, missed: map[int]*Missed{}}
}

// compare adds the vehicles held out. Sets are what is there together, by the
// observations' groups; credits is what the tree earns.
func (p *possible) compare(ctx context.Context, t *trial, sets []faultGroup, name func(int) string, sample, unseen, held []observation, faults []int, credits []float64) error {
	grown, err := t.grow(ctx, sample, len(sets)+1)
	if err != nil {
		return err
	}
	m := classifier{ensemble: grown, groups: sets}
	m.calibrate(unseen)
	for i, e := range held {
		if e.group == 0 {
			continue
		}
		p.walks++
		group := m.ambiguityGroup(e)
		there := 0
		for _, f := range group {
			if slices.Contains(sets[e.group-1], f) {
				there++
			}
		}
		can := mean(float64(there), len(group))
		p.can += can
		credit := credits[i]
		if len(group) > 0 {
			credit = min(credit, 1/float64(len(group)))
		}
		p.own += credit
		fault := faults[i]
		if p.missed[fault] == nil {
			p.missed[fault] = &Missed{Fault: t.plan.id(fault)}
		}
		lost := p.missed[fault]
		lost.Walks++
		lost.Own, lost.Possible = lost.Own+credit, lost.Possible+can
		if len(group) > there && there > 0 {
			var names []string
			for _, f := range group {
				names = append(names, name(f))
			}
			slices.Sort(names)
			p.together[strings.Join(names, "; ")]++
		}
	}
	return nil
}

// share is what the tree earns of the possible, at most 1; 0 where nothing is.
func (p *possible) share() float64 {
	if p.can == 0 {
		return 0
	}
	return min(1, p.own/p.can)
}

// Together is what no reading that the tree may ask tells apart.
type Together struct {
	Names []string `json:"names"`
	Share float64  `json:"share"` // of the vehicles with a fault
}

// leastTogether is the share below which nothing is told.
const leastTogether = 0.005

// Missed is a fault of which a tree says less than its readings could: what is to
// be done about it.
type Missed struct {
	Fault    string  `json:"fault"`
	Walks    int     `json:"walks"`
	Share    float64 `json:"share"`    // of the vehicles with a fault
	Own      float64 `json:"own"`      // the tree's credit, in the mean of the fault's vehicles
	Possible float64 `json:"possible"` // the classifier's
}

// misses lists the faults where the tree earns less than is possible, what that
// costs most first.
func (p *possible) misses() []Missed {
	out := []Missed{}
	for _, x := range p.missed {
		if x.Possible > x.Own {
			out = append(out, Missed{x.Fault, x.Walks, mean(float64(x.Walks), p.walks), mean(x.Own, x.Walks), mean(x.Possible, x.Walks)})
		}
	}
	loss := func(x Missed) float64 { return x.Share * (x.Possible - x.Own) }
	slices.SortFunc(out, func(a, b Missed) int { return cmp.Or(cmp.Compare(loss(b), loss(a)), cmp.Compare(a.Fault, b.Fault)) })
	return out
}

// groups lists what is named together, the most frequent first.
func (p *possible) groups() []Together {
	out := []Together{}
	for names, walks := range p.together {
		if x := mean(float64(walks), p.walks); x >= leastTogether {
			out = append(out, Together{strings.Split(names, "; "), x})
		}
	}
	slices.SortFunc(out, func(a, b Together) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), slices.Compare(a.Names, b.Names))
	})
	return out
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
// answers more than the binary logarithm of it in bits.
func (t *trial) outcomes() int {
	most := 2
	for _, s := range t.plan.tree.Steps {
		if !s.Reads() {
			continue
		}
		most = max(most, len(s.Exits()))
	}
	return most
}
