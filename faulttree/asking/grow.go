package asking

import (
	"cmp"
	"context"
	"math"
	"slices"

	"faultwright/faulttree/lists"
)

// MostExact is how many questions that tell something are tried in every order.
const MostExact = 7

// leastGain is how many bits a question must tell to be worth asking, beyond
// what chance tells in so few cases.
const leastGain = 0.01

// leastCases is below how many cases no order is tried in full: they are too few
// to tell a good one from one that is good by chance.
const leastCases = 4

// Grow makes a plan from some cases of s. Eager is the power of the cost by which
// what a question tells is divided: 1 weighs bits by their price, less than 1 asks costly
// questions sooner. It matters only where more questions are open than are tried
// in full. An error is that of ctx, or of [Sample.Check].
func (s *Sample) Grow(ctx context.Context, cases []int, eager float64) (*Plan, error) {
	return s.plan(ctx, cases, grower{eager: eager})
}

// GrowAhead is [Sample.Grow] with each question chosen by what it costs to the end
// if those after it are what then tells most for its price. It takes many times as
// long.
func (s *Sample) GrowAhead(ctx context.Context, cases []int) (*Plan, error) {
	return s.plan(ctx, cases, grower{eager: 1, ahead: true})
}

func (s *Sample) plan(ctx context.Context, cases []int, way grower) (*Plan, error) {
	if err := s.Check(); err != nil {
		return nil, err
	}
	g := &way
	g.Sample, g.ctx, g.after = s, ctx, closures(s.Questions)
	for _, c := range s.Cases {
		g.results = max(g.results, c.Result+1)
	}
	for _, column := range s.Columns {
		needs := slices.Sorted(slices.Values(column.Needs))
		if len(needs) < 2 || slices.ContainsFunc(g.together, func(o []int) bool { return slices.Equal(o, needs) }) {
			needs = nil
		}
		g.together = append(g.together, needs)
	}
	first := node{cases: cases, asked: make([]bool, len(s.Questions)), seen: make([]bool, len(s.Columns))}
	free := g.made(first)
	if len(free) == 0 {
		p, _ := g.grow(first)
		return p, ctx.Err()
	}
	p := &Plan{Ask: -1, Result: -1, shows: free, then: map[string]*Plan{}}
	for _, part := range g.parted(first, -1, free) {
		p.then[part.key], _ = g.grow(part.node)
	}
	return p, ctx.Err()
}

type grower struct {
	*Sample
	ctx     context.Context
	eager   float64
	ahead   bool // by what it costs to the end
	results int
	after   [][]int // by question, all that must come before it, in an order that works
	// together is, by column, the questions of a column that needs several, where
	// no earlier one needs the same.
	together [][]int
	table    []int // scratch of left: counts by part and result
	sizes    []int
}

// node is what is left once some questions were asked.
type node struct {
	cases   []int
	asked   []bool // by question
	seen    []bool // by column
	stopped bool
}

// closures lists for each question all that must be asked before it, the first
// first.
func closures(questions []Question) [][]int {
	out := make([][]int, len(questions))
	for q := range questions {
		var visit func(int)
		onWay := map[int]bool{}
		visit = func(at int) {
			if onWay[at] {
				return
			}
			onWay[at] = true
			for _, before := range questions[at].After {
				visit(before)
				if before != q && !slices.Contains(out[q], before) {
					out[q] = append(out[q], before)
				}
			}
		}
		visit(q)
	}
	return out
}

// made lists the columns that are known at n and not yet seen.
func (g *grower) made(n node) []int {
	var out []int
	for c, column := range g.Columns {
		if !n.seen[c] && !slices.ContainsFunc(column.Needs, func(q int) bool { return !n.asked[q] }) {
			out = append(out, c)
		}
	}
	return out
}

// part is what is left after one way that a question turned out.
type part struct {
	node
	key string
}

// parted parts n by what asking q makes known; -1 asks nothing.
func (g *grower) parted(n node, q int, columns []int) []part {
	at := map[string]int{}
	var parts []part
	for _, i := range n.cases {
		key := shown(g.Cases[i], columns)
		k, ok := at[key]
		if !ok {
			k = len(parts)
			at[key] = k
			next := node{asked: slices.Clone(n.asked), seen: slices.Clone(n.seen), stopped: n.stopped}
			for _, c := range columns {
				next.seen[c] = true
			}
			if q >= 0 {
				next.asked[q] = true
				next.stopped = n.stopped || slices.Contains(g.Questions[q].Stops, g.Cases[i].Shows[q])
			}
			parts = append(parts, part{next, key})
		}
		parts[k].cases = append(parts[k].cases, i)
	}
	return parts
}

// askedAt is n with q asked, what that makes known, and the parts.
func (g *grower) askedAt(n node, q int) ([]int, []part) {
	with := n
	with.asked = slices.Clone(n.asked)
	with.asked[q] = true
	columns := g.made(with)
	return columns, g.parted(n, q, columns)
}

// leaf is the end of a way, what its cases cost together from there on, and
// whether the result is known. Where it is not, but nothing tells more, it is the
// most frequent one all the same; the cases that have another are charged.
func (g *grower) leaf(n node) (*Plan, float64, bool) {
	counts, most := g.counts(n.cases)
	charge := 0.0
	for _, i := range n.cases {
		if g.Cases[i].Result != most {
			charge += g.Cases[i].Otherwise
		}
	}
	return &Plan{Ask: -1, Result: most}, charge, float64(counts[most]) >= g.Known*float64(len(n.cases))
}

// last is the question that must be asked before the result of a known leaf
// counts, -1 for none.
func (g *grower) last(n node, result int) int {
	if q, ok := g.Last[result]; ok && q >= 0 && !n.asked[q] {
		return q
	}
	return -1
}

// grow is the plan from n on, and what its cases cost together.
func (g *grower) grow(n node) (*Plan, float64) {
	leaf, charge, known := g.leaf(n)
	if g.ctx.Err() != nil {
		return leaf, charge
	}
	if known {
		if q := g.last(n, leaf.Result); q >= 0 {
			return g.ask(n, g.needed(n, q))
		}
		return leaf, charge
	}
	open := g.open(n)
	if len(open) == 0 {
		return leaf, charge
	}
	if asks := questionsOf(open); len(asks) <= MostExact && len(n.cases) >= leastCases {
		e := exact{grower: g, among: asks, known: map[string]*tried{}}
		return e.plan(n)
	}
	return g.ask(n, g.pick(n, open))
}

// ask is the plan that asks q at n.
func (g *grower) ask(n node, q int) (*Plan, float64) {
	columns, parts := g.askedAt(n, q)
	p := &Plan{Ask: q, Result: -1, shows: columns, then: map[string]*Plan{}}
	cost := g.price(n, q)
	for _, part := range parts {
		then, c := g.grow(part.node)
		p.then[part.key] = then
		cost += c
	}
	return p, cost
}

// price is what asking q costs the cases of n together.
func (g *grower) price(n node, q int) float64 {
	sum := 0.0
	for _, i := range n.cases {
		if g.Cases[i].Shows[q] != 0 {
			sum += g.Questions[q].Cost
		}
	}
	return sum
}

// needed is the question to ask at n on the way to q: the first that must come
// before it, or q itself.
func (g *grower) needed(n node, q int) int {
	for _, before := range g.after[q] {
		if !n.asked[before] {
			return before
		}
	}
	return q
}

// offer is questions that could be worth asking one after the other: one with
// what must come before it, or all that a column still needs.
type offer struct {
	asks  []int
	gain  float64 // bits, of a case
	price float64 // of all cases together
}

// open lists what tells something at n and may be asked: of the lowest rank that
// has any.
func (g *grower) open(n node) []offer {
	var out []offer
	lowest := math.MaxInt
	whole := g.entropy(n.cases)
	add := func(wanted []int) {
		o := offer{}
		rank := 0
		with := n
		with.asked = slices.Clone(n.asked)
		for _, q := range wanted {
			for _, k := range append(slices.Clone(g.after[q]), q) {
				if with.asked[k] {
					continue
				}
				if n.stopped && !g.Questions[k].AfterStop {
					return
				}
				with.asked[k] = true
				o.asks = append(o.asks, k)
				o.price += g.price(n, k)
			}
			rank = max(rank, g.Questions[q].Rank)
		}
		if o.price == 0 || rank > lowest {
			return
		}
		o.gain = whole - g.left(n.cases, g.made(with))
		switch {
		case o.gain <= leastGain:
		case rank < lowest:
			lowest, out = rank, []offer{o}
		default:
			out = append(out, o)
		}
	}
	for q := range g.Questions {
		if !n.asked[q] {
			add([]int{q})
		}
	}
	for c, needs := range g.together {
		if !n.seen[c] && len(needs) > 0 {
			add(needs)
		}
	}
	return out
}

// questionsOf lists the questions of some offers.
func questionsOf(open []offer) []int {
	var out []int
	for _, o := range open {
		for _, q := range o.asks {
			out = lists.With(out, q)
		}
	}
	return out
}

// worth is what an offer tells for its price, the price weighed as the plan is
// grown.
func (g *grower) worth(n node, o offer) float64 {
	return o.gain / math.Pow(o.price/float64(len(n.cases)), g.eager)
}

// pick is what to ask of what is open.
func (g *grower) pick(n node, open []offer) int {
	if g.ahead && len(open) > 1 && len(n.cases) >= fewestLookedAt {
		return g.pickAhead(n, open)
	}
	return g.greedy(n, open).asks[0]
}

// greedy is what tells most for its price.
func (g *grower) greedy(n node, open []offer) offer {
	best := 0
	for i := range open {
		if g.worth(n, open[i]) > g.worth(n, open[best]) {
			best = i
		}
	}
	return open[best]
}

// What looking ahead is bounded by.
const (
	mostFollowed   = 5   // offers that are followed to the end
	mostLookedAt   = 600 // cases by which they are compared
	fewestLookedAt = 50  // cases below which one is as good as another
)

// pickAhead compares the best offers by what they cost to the end, followed each
// time by what then tells most for its price.
func (g *grower) pickAhead(n node, open []offer) int {
	slices.SortStableFunc(open, func(a, b offer) int { return cmp.Compare(g.worth(n, b), g.worth(n, a)) })
	few := n
	if step := (len(n.cases) + mostLookedAt - 1) / mostLookedAt; step > 1 {
		few.cases = nil
		for i := 0; i < len(n.cases); i += step {
			few.cases = append(few.cases, n.cases[i])
		}
	}
	best, least := 0, math.Inf(1)
	for i, o := range open[:min(len(open), mostFollowed)] {
		if cost := g.costThrough(few, o); cost < least*(1-1e-9) {
			best, least = i, cost
		}
	}
	return open[best].asks[0]
}

// costThrough is what the cases of n cost together from there on if an offer is
// taken, and then what tells most for its price.
func (g *grower) costThrough(n node, o offer) float64 {
	cost := 0.0
	front := []node{n}
	for _, q := range o.asks {
		var next []node
		for _, at := range front {
			if at.stopped && !g.Questions[q].AfterStop {
				next = append(next, at)
				continue
			}
			cost += g.price(at, q)
			_, parts := g.askedAt(at, q)
			for _, p := range parts {
				next = append(next, p.node)
			}
		}
		front = next
	}
	for _, at := range front {
		cost += g.costGreedily(at)
	}
	return cost
}

// costGreedily is what the cases of n cost together from there on.
func (g *grower) costGreedily(n node) float64 {
	_, charge, known := g.leaf(n)
	if known || g.ctx.Err() != nil {
		return charge
	}
	open := g.open(n)
	if len(open) == 0 {
		return charge
	}
	return g.costThrough(n, g.greedy(n, open))
}
