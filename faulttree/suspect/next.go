package suspect

import (
	"cmp"
	"context"
	"fmt"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/asking"
)

// Reader is what is known of who asks what to read next.
type Reader struct {
	Known faulttree.Known // what the facts are; nil: nothing is known
	Tree  string          // id of the tree that the reader came with, "" for none: interventions are judged by its complaint
	Tools Tools
	// Stopped: a reading stands that may have reached a danger limit, also where by its
	// quantity it is not one for which the handbook states one.
	Stopped bool
	NoWhy   bool // nobody asks why: [Next.Apart] is left out, which takes time
	// Can reports whether a quantity can be read at all as things are; nil: each can. What
	// cannot be read holds nothing up that can.
	Can func(faulttree.Quantity) bool
}

// has reports whether facts, tools and how things are let a reader read q.
func (r Reader) has(q faulttree.Quantity) bool {
	return !q.Needs.Unmet(r.Known) && r.Tools.read(q) && (r.Can == nil || r.Can(q))
}

// Next is one thing worth finding out next: a reading, something to look at, or
// something to try; exactly one of them.
type Next struct {
	Quantity     *faulttree.Quantity
	Observation  *faulttree.Observation
	Intervention *faulttree.Intervention
	System       string
	// Again: the quantity, or For where there is one, was read already and is read once
	// more, because too much rests on the one reading.
	Again bool
	// For is the quantity for whose sake it is read, where by itself it only comes
	// before that: pins in volts before ohms. Nil where it is read for its own.
	For   *faulttree.Quantity
	Apart Apart   // what it tells apart best, of For where there is one
	Bits  float64 // by how much less uncertain it is expected to be what is to be done, or which untested danger is there
	Cost  float64 // what it costs by the weights of the handbook, with what must come before it
}

// ID is the id of what is read, looked at or tried.
func (n Next) ID() string {
	switch {
	case n.Observation != nil:
		return n.Observation.ID
	case n.Intervention != nil:
		return n.Intervention.ID
	}
	return n.Quantity.ID
}

// Why is the reason in a sentence without its full stop.
func (n Next) Why() string {
	switch {
	case n.Again && n.For != nil:
		return fmt.Sprintf("comes before “%s” once more: %s", n.For.Title, n.carried())
	case n.Again:
		return n.carried()
	case n.For != nil:
		return fmt.Sprintf("comes before “%s”, which %s", n.For.Title, n.Apart)
	}
	return n.Apart.String()
}

// Purpose is the reason without what would be shown, for who is to foresee that.
func (n Next) Purpose() string {
	switch {
	case n.For != nil:
		return fmt.Sprintf("comes before “%s”", n.For.Title)
	case n.Again:
		return n.carried()
	}
	return n.Apart.names()
}

// What the choice of the next reading rests on. Common practice, no source.
const (
	sampled   = 600  // cases of a system that stand for all, by their shares
	leastBits = 0.05 // what a reading must be expected to tell to be worth taking, and a dead one to keep a live one waiting
	ahead     = 2    // readings looked ahead: of so few cases, what further ones would tell is chance
	settled   = 0.98 // share from which on it is settled what is to be done
	atOnce    = 0.3  // what a reading tells by itself counts so much besides what it tells with the next
)

// Next lists what is worth finding out next, the best first: what is expected to
// tell most, for its cost, about what is to be done. Two readings are looked ahead.
// What is to be done is a place and who repairs there, so that what one person
// repairs in one place is not split further. Nothing is proposed that role, state,
// safety or tools forbid:
//
//   - to an owner nothing that no tree asks of an owner;
//   - nothing live while a test of dead things tells something;
//   - after a reading that may have reached a danger limit, only what may be asked
//     after a STOP, of an owner nothing live;
//   - while readings call the supply dangerous, see [Belief.NoPlug], nothing for which the
//     vehicle must be plugged in and live;
//   - while a fault that forbids loads is not unlikely, nothing with loads on, and
//     unless it stays within one branch nothing live inside;
//   - no ohms before the pins were read in volts, nor where they were not dead;
//   - nothing that was read, but for what one reading alone carries, which is offered
//     once more; never one that may have reached a danger limit;
//   - nothing on the vehicle read to the spike before that was tried, nothing live
//     before the metal that is touched on the way.
//
// Where nothing tells enough of what is to be done although that is not settled, more
// vehicles are asked that fit less closely. Where they tell nothing either, dead tests are
// listed that would show dangers which nothing was a test for: who stops there
// would take for absent what he has not looked for.
//
// It is about the systems that the evidence is about, or all where it is about
// none. An error is that of the population or of ctx.
func (b *Belief) Next(ctx context.Context, rules *Rules, reader Reader) ([]Next, error) {
	if reader.Known == nil {
		reader.Known = func(string) string { return "" }
	}
	noPlug := b.NoPlug(rules.forest, reader.Known)
	choose := func(system int, shares []float64, untested bool) (all []valued, reads bool, err error) {
		c := &chooser{Belief: b, rules: rules, reader: reader, system: system, shares: shares, questions: map[string]int{}, untested: untested, noPlug: noPlug}
		all, err = c.valued(ctx)
		return all, slices.ContainsFunc(all, func(v valued) bool { return v.Quantity != nil }), err
	}
	var all []valued
	for system := range b.pool.systems {
		if !b.counts(system) {
			continue
		}
		of, reads, err := choose(system, b.evened[system](), false)
		if err == nil && !reads && !b.isSettled(system) {
			if more := b.evenedTo(system, enoughToPart); b.isEven(more) {
				of, reads, err = choose(system, more, false)
			}
			if untested := b.ofUntested(system); err == nil && !reads && untested != nil {
				var dangers []valued
				dangers, _, err = choose(system, untested, true)
				of = append(of, dangers...)
			}
		}
		if err != nil {
			return nil, err
		}
		all = append(all, of...)
	}
	slices.SortStableFunc(all, func(x, y valued) int { return cmp.Compare(y.worth, x.worth) })
	out := make([]Next, len(all))
	for i, v := range all {
		out[i] = v.Next
	}
	return out, nil
}

// valued is something worth finding out, and how much it is worth.
type valued struct {
	Next
	worth float64
}

// valued is what the choice comes to.
func (c *chooser) valued(ctx context.Context) ([]valued, error) {
	ranked, err := c.choose(ctx)
	if err != nil {
		return nil, err
	}
	var qs []faulttree.Quantity
	for _, k := range ranked {
		if q := c.asked[k.For].Quantity; q != nil && c.asked[k.For].chances == nil {
			qs = append(qs, *q)
		}
	}
	if c.before = before(c.few); c.before != nil && !c.reader.NoWhy {
		if err := solveTogether(ctx, c.before, qs); err != nil {
			return nil, err
		}
	}
	out := make([]valued, len(ranked))
	for i, k := range ranked {
		out[i].worth = k.BitsAhead/k.CostAhead + atOnce*k.Bits/k.Cost
		if out[i].Next, err = c.next(ctx, k); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// Telling lists those of some quantities that are expected to tell enough of what is to
// be done, each by itself, to be worth taking; see [Belief.Next]. An error is that of the
// population or of ctx.
func (b *Belief) Telling(ctx context.Context, rules *Rules, qs ...faulttree.Quantity) ([]faulttree.Quantity, error) {
	if len(qs) == 0 {
		return nil, nil
	}
	tells := make([]bool, len(qs))
	for system := range b.pool.systems {
		c := &chooser{Belief: b, rules: rules, system: system, shares: b.evened[system]()}
		if c.resample(); !b.counts(system) || len(c.sample) == 0 {
			continue
		}
		if err := c.wasRead(ctx); err != nil {
			return nil, err
		}
		var of []int // quantities, by question
		for i, q := range qs {
			column, err := b.pool.Column(ctx, q)
			if err != nil {
				return nil, err
			}
			a := asked{Next: Next{Quantity: &q}}
			if _, ok := c.read(&a, atSample(column, c.sample)); ok {
				of = append(of, i)
				c.asked, c.look.Questions = append(c.asked, a), append(c.look.Questions, asking.Question{Cost: 1})
			}
		}
		c.cases()
		c.look.Draws, c.look.Least, c.look.Depth = c.draws, leastBits, 1
		ranked, err := c.look.Rank(ctx)
		if err != nil {
			return nil, err
		}
		for _, k := range ranked {
			tells[of[k.Ask]] = true
		}
	}
	var out []faulttree.Quantity
	for i, q := range qs {
		if tells[i] {
			out = append(out, q)
		}
	}
	return out, nil
}

// atSample is what the cases of a sample have in a column.
func atSample(column []float32, sample []int) []float32 {
	out := make([]float32, len(sample))
	for k, i := range sample {
		out[k] = column[i]
	}
	return out
}

// chooser is the choice of what to find out next about one system.
type chooser struct {
	*Belief
	rules     *Rules
	reader    Reader
	system    int
	sample    []int      // cases that stand for all
	few       Population // these alone
	before    Population // the same before anything went wrong with them; nil where nobody knows
	shares    []float64  // by case: those by which it is sampled
	even      bool       // they are evened within their cells
	untested  bool       // only dangers are looked for that nothing was a test for
	weight    []float64
	draws     float64
	stopped   bool
	noPlug    bool // the supply is dangerous by what was read
	noLoads   bool // a fault that forbids loads is not unlikely
	noInside  bool // one that reaches beyond its branch, so that nothing live is read inside
	asked     []asked
	shown     map[faulttree.Unit][][]float32 // by unit, what cases of the sample have in each reading that was taken
	questions map[string]int                 // by the id of a quantity, an index into asked; -1 where it may not be proposed
	look      asking.Lookahead
}

// asked is one question: what stands behind it, and what the sample answers.
type asked struct {
	Next
	column  []float32   // by case of the sample, what is read; nil for what is seen or tried
	codes   []uint8     // by case of the sample
	words   []string    // by choice, of what is seen or tried
	chances [][]float32 // the same by case of the sample, how likely it is
}

// choose is the questions ranked.
func (c *chooser) choose(ctx context.Context) ([]asking.Candidate, error) {
	if c.resample(); len(c.sample) == 0 {
		return nil, nil
	}
	c.few = only(c.pool.Population, c.sample)
	if err := c.wasRead(ctx); err != nil {
		return nil, err
	}
	c.state()
	if err := c.propose(ctx); err != nil || len(c.asked) == 0 {
		return nil, err
	}
	c.look.Known, c.look.Draws, c.look.Least, c.look.Stopped = settled, c.draws, leastBits, c.stopped
	c.look.Depth = ahead
	c.cases()
	ranked, err := c.look.Rank(ctx)
	if err == nil && !slices.ContainsFunc(ranked, func(k asking.Candidate) bool { return c.asked[k.Ask].Observation == nil }) {
		for i := range c.look.Questions { // no dead test tells anything; what is only looked at holds nothing up
			c.look.Questions[i].Rank = 0
		}
		ranked, err = c.look.Rank(ctx)
	}
	if err != nil {
		return nil, err
	}
	return c.forRepeats(ctx, ranked)
}

// cases fills in what the sample answers.
func (c *chooser) cases() {
	for k, i := range c.sample {
		one := asking.Weighted{Result: c.pool.task(i), Weight: c.weight[k]}
		for _, a := range c.asked {
			one.Shows = append(one.Shows, a.codes[k])
		}
		c.look.Cases = append(c.look.Cases, one)
	}
}

// resample takes cases of the system by their shares, in equal steps through all.
func (c *chooser) resample() {
	c.even = !c.untested && c.isEven(c.shares)
	size := c.size(c.system, c.shares)
	if size.sum <= 0 {
		return
	}
	at := 0.5
	for i, share := range c.shares {
		if c.pool.system(i) != c.system {
			continue
		}
		times := 0.0
		for at -= share / size.sum * sampled; at < 0; at++ {
			times++
		}
		if times > 0 {
			c.sample, c.weight = append(c.sample, i), append(c.weight, times/sampled)
		}
	}
	c.draws = min(sampled, size.cases())
}

// isSettled reports whether it is settled what is to be done about a system.
func (b *Belief) isSettled(system int) bool {
	tasks := make([]float64, len(b.pool.tasks))
	for k, kind := range b.pool.kinds {
		if kind.system == system {
			tasks[kind.task] += b.kinds[k]
		}
	}
	return slices.Max(tasks) >= settled
}

// ofUntested is shares by which half of the vehicles have, each as often, one of the
// dangers of a system that nothing was a test for; nil where there is none.
func (b *Belief) ofUntested(system int) []float64 {
	untested := map[faulttree.FaultAt]bool{}
	for _, o := range b.Open() {
		if o.System == b.pool.systems[system] && !o.Tested {
			untested[faulttree.FaultAt{Fault: o.Fault, Place: o.Place}] = true
		}
	}
	if len(untested) == 0 {
		return nil
	}
	looked := func(k kind) bool { return k.system == system && len(k.faults) == 1 && untested[k.faults[0]] }
	prior := make([]float64, len(b.pool.kinds))
	for i, p := range b.pool.prior {
		prior[b.pool.kind[i]] += p
	}
	out := make([]float64, len(b.share))
	for i, k := range b.pool.kind {
		out[i] = b.share[i] / 2
		if looked(b.pool.kinds[k]) && prior[k] > 0 {
			out[i] += b.pool.prior[i] / prior[k] / float64(2*len(untested))
		}
	}
	return out
}

// state works out whether a STOP stands, and whether loads are in doubt.
func (c *chooser) state() {
	c.stopped = c.reader.Stopped
	for _, e := range c.evidence {
		c.stopped = c.stopped || e.Quantity.ID != "" && c.rules.stops(e.Quantity, e.Reading, c.reasoner.meter)
	}
	loads, inside := 0.0, 0.0
	for k, kind := range c.pool.kinds {
		if kind.system != c.system {
			continue
		}
		of := func(forbids func(Described) bool) float64 {
			if slices.ContainsFunc(kind.faults, func(f faulttree.FaultAt) bool { return forbids(c.reasoner.describe(f.Fault, f.Place)) }) {
				return c.kinds[k]
			}
			return 0
		}
		loads += of(func(d Described) bool { return d.NoLoads })
		inside += of(func(d Described) bool { return d.NoLoads && !d.OneBranch })
	}
	c.noLoads, c.noInside = loads >= possible, inside >= possible
}

// next words a candidate.
func (c *chooser) next(ctx context.Context, k asking.Candidate) (Next, error) {
	n := c.asked[k.Ask].Next
	n.System, n.Bits, n.Cost = c.pool.systems[c.system], k.Bits, k.Cost
	n.Again = c.asked[k.For].Again
	if k.For != k.Ask {
		n.For = c.asked[k.For].Quantity
	}
	if c.reader.NoWhy {
		return n, nil
	}
	var err error
	n.Apart, err = c.apart(ctx, c.asked[k.For])
	return n, err
}
