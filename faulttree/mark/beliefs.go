package mark

import (
	"cmp"
	"context"
	"fmt"
	"slices"
	"strings"
	"sync"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// Beliefs says what readings tell of a vehicle of which the facts are known. It
// draws vehicles once for the same facts, and solves what was read of them once;
// attempts that are marked together share one. Any number of goroutines may ask
// it. Make one with [NewBeliefs].
type Beliefs struct {
	from     drawn.Handbook
	meter    faulttree.Meter
	describe suspect.Describe
	rules    map[faulttree.Role]*suspect.Rules
	asked    map[faulttree.Role]map[string]bool // quantities that some tree asks a role to read

	mu   sync.Mutex
	kept map[string]*reasoned
}

// reasoned is the vehicles of some facts.
type reasoned struct {
	once       sync.Once
	err        error
	population *drawn.Population
	reasoner   *suspect.Reasoner

	mu      sync.Mutex
	beliefs map[string]*suspect.Belief // by evidence, the last few
	order   []string                   // the last one that was asked for at the end
	bins    map[string]binned          // by id of the quantity

	numbered sync.Once
	task     []int32 // by case, the number of what is to be done
	tasks    int     // how many of these there are
}

// mostBeliefs is how many beliefs are kept for the same facts, of a megabyte or two each.
const mostBeliefs = 8

// Forget lets go of what was believed of attempts that were marked. The vehicles stay.
func (b *Beliefs) Forget() {
	b.mu.Lock()
	defer b.mu.Unlock()
	for _, k := range b.kept {
		k.mu.Lock()
		k.beliefs, k.order = map[string]*suspect.Belief{}, nil
		if k.reasoner != nil {
			k.reasoner.Forget()
		}
		k.mu.Unlock()
	}
}

// near is how many vehicles have to fit the readings given which another is weighed. There
// are no further draws, and of fewer than a dozen vehicles chance decides which has about
// the same loads. Common practice, no source.
const near = 12

// seed of all drawn vehicles: the same attempt gets the same marks every time.
const seed = 1

// NewBeliefs draws from a handbook. Readings are weighed by a meter.
func NewBeliefs(h drawn.Handbook, m faulttree.Meter, d suspect.Describe) *Beliefs {
	b := &Beliefs{from: h, meter: m, describe: d, kept: map[string]*reasoned{}, rules: map[faulttree.Role]*suspect.Rules{}, asked: map[faulttree.Role]map[string]bool{}}
	for _, role := range []faulttree.Role{faulttree.Owner, faulttree.Qualified} {
		b.rules[role] = suspect.NewRules(h.Forest, role)
		b.asked[role] = map[string]bool{}
		for id := range h.Forest.Before(role) {
			b.asked[role][id] = true
		}
	}
	return b
}

// Meter is what readings are weighed by.
func (b *Beliefs) Meter() faulttree.Meter { return b.meter }

// Drawn is the same text for rigs of which the same is known without a meter, as far as
// the handbook has such vehicles: attempts at them share those that are drawn.
func (b *Beliefs) Drawn(r *rig.Rig) string {
	direct := r.Direct()
	rigs := drawn.Agreeing(b.of(direct), r.Facts)
	return fmt.Sprint(direct, lists.Each(rigs, func(r *rig.Rig) string { return r.ID }))
}

// of is the handbook with the rigs alone of direct current only, or the others.
func (b *Beliefs) of(direct bool) drawn.Handbook {
	h := b.from
	h.Rigs = lists.Where(h.Rigs, func(r *rig.Rig) bool { return r.Direct() == direct })
	return h
}

// vehicles are those that agree with what is known of a rig without a meter, of its own
// system.
func (b *Beliefs) vehicles(ctx context.Context, r *rig.Rig) (*reasoned, error) {
	key := b.Drawn(r)
	b.mu.Lock()
	k, ok := b.kept[key]
	if !ok {
		k = &reasoned{beliefs: map[string]*suspect.Belief{}, bins: map[string]binned{}}
		b.kept[key] = k
	}
	b.mu.Unlock()
	k.once.Do(func() {
		assumed := suspect.CommonPractice()
		assumed.More, assumed.Near = 0, near // attempts share the vehicles; further draws around each would be those of one attempt
		if k.population, k.err = drawn.New(ctx, b.of(r.Direct()), drawn.Options{Facts: r.Facts, Seed: seed}); k.err == nil {
			k.mu.Lock()
			k.reasoner = suspect.New(k.population, b.meter, b.describe).Assuming(assumed).Late()
			k.mu.Unlock()
		}
	})
	if k.err != nil {
		b.mu.Lock()
		delete(b.kept, key) // the next one may not be stopped
		b.mu.Unlock()
	}
	return k, k.err
}

// belief is what some evidence says.
func (b *Beliefs) belief(ctx context.Context, c practice.Case, evidence []taken) (*suspect.Belief, error) {
	k, err := b.vehicles(ctx, c.Rig)
	if err != nil {
		return nil, err
	}
	var all []suspect.Evidence
	var key strings.Builder
	for _, e := range evidence {
		if e.stand != nil {
			k.population.Stand(e.Quantity, *e.stand)
		}
		all = append(all, e.Evidence)
		if e.Seen != nil {
			fmt.Fprintf(&key, "%s=%s\n", e.Seen.Observation, e.Seen.Choice)
			continue
		}
		fmt.Fprintf(&key, "%s=%v %v %v %d\n", e.Quantity.ID, e.Reading.Quality, e.Reading.Low, e.Reading.High, e.Round)
	}
	k.mu.Lock()
	held := k.beliefs[key.String()]
	if held != nil { // that of the story alone is asked for by each attempt
		k.order = append(slices.DeleteFunc(k.order, func(o string) bool { return o == key.String() }), key.String())
	}
	k.mu.Unlock()
	if held != nil {
		return held, nil
	}
	out, err := k.reasoner.Belief(ctx, all)
	if err != nil {
		return nil, err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	if _, ok := k.beliefs[key.String()]; !ok {
		if len(k.order) == mostBeliefs {
			delete(k.beliefs, k.order[0])
			k.order = k.order[1:]
		}
		k.order = append(k.order, key.String())
		k.beliefs[key.String()] = out
	}
	return out, nil
}

// task is what is to be done about a fault: where, and who does it.
type task struct {
	place faulttree.Place
	who   string
}

func (b *Beliefs) task(f faulttree.FaultAt) task {
	return task{f.Place, b.describe(f.Fault, f.Place).RepairBy}
}

// tasks is what is to be done about some faults, each once.
func (b *Beliefs) tasks(faults []faulttree.FaultAt) []task {
	var out []task
	for _, f := range faults {
		if t := b.task(f); !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	slices.SortFunc(out, func(x, y task) int { return cmp.Or(cmp.Compare(x.place, y.place), cmp.Compare(x.who, y.who)) })
	return out
}

// holds is the share that a belief gives to vehicles in which all of some tasks
// are to be done; without any, to those in which nothing is.
func (g *marker) holds(of *suspect.Belief, want []task) float64 {
	share := 0.0
	for _, s := range of.Brief() {
		has := g.toDo(s)
		if len(want) == 0 && len(has) == 0 || len(want) > 0 && !slices.ContainsFunc(want, func(t task) bool { return !slices.Contains(has, t) }) {
			share += s.Share
		}
	}
	return min(1, share)
}

// toDo is what is to be done about a suspect at the vehicle of the case.
func (g *marker) toDo(s suspect.Suspect) []task {
	parts := lists.Each(s.Parts, func(p suspect.Part) faulttree.FaultAt { return p.At })
	return g.b.Beliefs.tasks(g.c.Rig.Broken(parts, g.truth()))
}

// doubt is the share of faults in whose presence no load is switched on, and the
// likeliest of them.
func (b *Beliefs) doubt(of *suspect.Belief) (share float64, worst suspect.Part) {
	for _, s := range of.Brief() {
		for _, p := range s.Parts {
			if b.describe(p.At.Fault, p.At.Place).NoLoads {
				share += p.Share
				if p.Share > worst.Share {
					worst = p
				}
			}
		}
	}
	return min(1, share), worst
}
