package trial

import (
	"context"
	"math"
	"math/rand/v2"
	"slices"
)

// The size of the classifier's ensemble, and what the greedy way of asking is
// grown on.
const (
	ensembleSize = 24
	columnsTried = 8 // readings tried at a node of a tree
	limitsTried  = 4 // limits tried for each
	leafSize     = 2 // vehicles in a leaf of a tree
	greedyRigs   = 6000
	greedyLeaf   = 8    // vehicles below which nothing more is asked
	greedyGain   = 0.02 // bits below which nothing more is asked
	quantiles    = 12   // limits tried for a reading on the greedy way
)

// node is a node of a decision tree: a limit on one reading, or a leaf with
// the shares of the faults.
type node struct {
	column      int // -1 for a leaf
	limit       float32
	below, from int32 // nodes
	shares      []share
}

type share struct {
	class int32 // what is wrong, 0 for nothing
	share float32
}

type decisionTree []node

// ensemble is decision trees that vote.
type ensemble []decisionTree

// grow grows the trees of the ensemble, each from a seed of its own.
func (t *trial) grow(ctx context.Context, sample []observation, classes int) (ensemble, error) {
	c := make(ensemble, ensembleSize)
	err := t.inParallel(ctx, ensembleSize, func(i int) error {
		g := grower{classes: classes, rng: rand.New(rand.NewPCG(t.options.Seed, uint64(i)+1<<40))}
		if len(sample) > 0 {
			g.columns = len(sample[0].values)
			g.build(slices.Clone(sample))
		}
		c[i] = g.nodes
		return nil
	})
	return c, err
}

// posterior is the probability of each group of faults, up to a factor; 0 is no
// fault.
func (c ensemble) posterior(e observation, classes int) []float64 {
	p := make([]float64, classes)
	for _, d := range c {
		if len(d) == 0 {
			continue
		}
		at := &d[0]
		for at.column >= 0 {
			if e.values[at.column] < at.limit {
				at = &d[at.below]
			} else {
				at = &d[at.from]
			}
		}
		for _, s := range at.shares {
			p[s.class] += float64(s.share)
		}
	}
	return p
}

// classifier is an ensemble with what it takes to call a vehicle faulty.
type classifier struct {
	ensemble
	groups    []faultGroup
	threshold float64 // how many times likelier than none a fault must be
}

const (
	minSpecificity = 0.95 // share of healthy vehicles that must not be called faulty
	groupShare     = 0.9  // share of the probability of faults that an ambiguity group holds
)

// calibrate sets the threshold by healthy vehicles that the ensemble never saw,
// at least 1.
func (m *classifier) calibrate(unseen []observation) {
	var odds []float64
	for _, e := range unseen {
		p := m.posterior(e, len(m.groups)+1)
		odds = append(odds, slices.Max(p[1:])/max(p[0], 1e-9))
	}
	m.threshold = 1
	if n := len(odds); n > 0 {
		slices.Sort(odds)
		m.threshold = max(1, odds[min(n-1, int(math.Ceil(minSpecificity*float64(n))))])
	}
}

// ambiguityGroup is the faults that are named for a vehicle, chosen one after
// the other by how probable they are; none where nothing stands out.
func (m *classifier) ambiguityGroup(e observation) []int {
	p := m.posterior(e, len(m.groups)+1)
	if slices.Max(p[1:]) <= p[0]*m.threshold {
		return nil
	}
	all := 0.0
	for _, x := range p[1:] {
		all += x
	}
	var named []int
	for left := all; left > (1-groupShare)*all; {
		holds := map[int]float64{}
		best := -1
		for k, group := range m.groups {
			if slices.ContainsFunc(group, func(f int) bool { return slices.Contains(named, f) }) {
				continue
			}
			for _, f := range group {
				holds[f] += p[k+1]
				if best < 0 || holds[f] > holds[best] || holds[f] == holds[best] && f < best {
					best = f
				}
			}
		}
		if best < 0 {
			break
		}
		named = append(named, best)
		left -= holds[best]
	}
	return named
}

// grower grows one decision tree.
type grower struct {
	classes, columns int
	rng              *rand.Rand
	nodes            decisionTree
	counts, left     []int
}

// build grows the node of a sample, which it reorders, and returns its place.
func (g *grower) build(sample []observation) int32 {
	at := int32(len(g.nodes))
	g.nodes = append(g.nodes, node{column: -1})
	column, limit, gain := g.split(sample)
	if gain <= 0 {
		g.nodes[at].shares = g.shares(sample)
		return at
	}
	k := partition(sample, column, limit)
	below := g.build(sample[:k])
	from := g.build(sample[k:])
	n := &g.nodes[at]
	n.column, n.limit, n.below, n.from = column, limit, below, from
	return at
}

// partition puts the vehicles below a limit first and returns how many there
// are.
func partition(sample []observation, column int, limit float32) int {
	k := 0
	for i := range sample {
		if sample[i].values[column] < limit {
			sample[i], sample[k] = sample[k], sample[i]
			k++
		}
	}
	return k
}

func (g *grower) split(sample []observation) (column int, limit float32, gain float64) {
	if len(sample) < 2*leafSize || g.columns == 0 {
		return 0, 0, 0
	}
	whole := g.entropy(sample)
	if whole == 0 {
		return 0, 0, 0
	}
	for range columnsTried {
		c := g.rng.IntN(g.columns)
		for range limitsTried {
			l := sample[g.rng.IntN(len(sample))].values[c]
			if x := whole - g.splitEntropy(sample, c, l, leafSize); x > gain {
				column, limit, gain = c, l, x
			}
		}
	}
	return column, limit, gain
}

// splitEntropy is the mean entropy of the two parts, in bits; that of the whole
// or more where a part is smaller than least.
func (g *grower) splitEntropy(sample []observation, column int, limit float32, least int) float64 {
	g.left = zeros(g.left, g.classes)
	g.counts = zeros(g.counts, g.classes)
	below := 0
	for i := range sample {
		if sample[i].values[column] < limit {
			g.left[sample[i].group]++
			below++
		} else {
			g.counts[sample[i].group]++
		}
	}
	if below < least || len(sample)-below < least {
		return math.Inf(1)
	}
	return (entropyOf(g.left, below)*float64(below) + entropyOf(g.counts, len(sample)-below)*float64(len(sample)-below)) / float64(len(sample))
}

func zeros(s []int, n int) []int {
	if cap(s) < n {
		return make([]int, n)
	}
	s = s[:n]
	clear(s)
	return s
}

// entropyOf is the entropy of counts that add up to n.
func entropyOf(counts []int, n int) float64 {
	h := 0.0
	for _, c := range counts {
		if c > 0 {
			p := float64(c) / float64(n)
			h -= p * math.Log2(p)
		}
	}
	return h
}

func (g *grower) entropy(sample []observation) float64 {
	g.counts = zeros(g.counts, g.classes)
	for i := range sample {
		g.counts[sample[i].group]++
	}
	return entropyOf(g.counts, len(sample))
}

func (g *grower) shares(sample []observation) []share {
	g.counts = zeros(g.counts, g.classes)
	for i := range sample {
		g.counts[sample[i].group]++
	}
	var out []share
	for class, n := range g.counts {
		if n > 0 {
			out = append(out, share{int32(class), float32(n) / float32(len(sample))})
		}
	}
	return out
}

// greedy asks next what tells most about the fault, until nothing tells more,
// and returns the entropy that is left and how many readings were taken, both
// in the mean. A reading that was taken may be looked at again for nothing. It
// gives up when ctx ends.
func (g *grower) greedy(ctx context.Context, sample []observation, taken []int) (left, asked float64) {
	whole := g.entropy(sample)
	if len(sample) < 2*greedyLeaf || whole == 0 || ctx.Err() != nil {
		return whole, 0
	}
	column, limit, gain := -1, float32(0), greedyGain
	for c := range g.columns {
		values := make([]float32, len(sample))
		for i := range sample {
			values[i] = sample[i].values[c]
		}
		slices.Sort(values)
		last := float32(math.Inf(-1))
		for q := 1; q < quantiles; q++ {
			l := values[q*len(values)/quantiles]
			if l == last {
				continue
			}
			last = l
			x := whole - g.splitEntropy(sample, c, l, greedyLeaf)
			if slices.Contains(taken, c) {
				x *= 1 + 1e-9
			}
			if x > gain {
				column, limit, gain = c, l, x
			}
		}
	}
	if column < 0 {
		return whole, 0
	}
	cost := 1.0
	if slices.Contains(taken, column) {
		cost = 0
	} else {
		taken = append(slices.Clip(taken), column)
	}
	k := partition(sample, column, limit)
	l1, a1 := g.greedy(ctx, sample[:k], taken)
	l2, a2 := g.greedy(ctx, sample[k:], taken)
	w := float64(k) / float64(len(sample))
	return w*l1 + (1-w)*l2, cost + w*a1 + (1-w)*a2
}
