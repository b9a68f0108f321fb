package drawn

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"runtime"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
)

// Handbook is what is drawn from.
type Handbook struct {
	Forest *faulttree.Forest
	Rigs   []*rig.Rig
	Faults []*rig.Fault
}

// Options say which vehicles are drawn, and how many.
type Options struct {
	Facts   map[string]string // by id, the choice that holds: a rig that states another is left out
	Implied map[string]string // the same for what nobody stated; of a system in which all rigs state another, none is left out
	Tree    string            // rigs before which its reader may stand, by id or name; "" is all
	Seed    uint64
	Cases   int // about how many; 0 is 16,000. There are more where the guarantee of each fault needs them
	Workers int // 0 is one for each core
}

// usualCases is how many vehicles are drawn where nobody says it.
const usualCases = 16_000

// ErrNoRig is what [New] returns where no rig of the handbook agrees with the
// facts.
var ErrNoRig = errors.New("no rig of the handbook is such a vehicle")

// Population is drawn vehicles. It solves what is asked of them when it is asked,
// once. Make one with [New]; it may be used by several goroutines.
type Population struct {
	forest  *faulttree.Forest
	tree    *faulttree.Tree // of the reader; nil where nobody said which
	seed    uint64
	workers int
	rigs    []*rig.Rig
	benches map[*rig.Rig]*bench.Bench // never solved on: others are made from them
	all     []*rig.Rig                // of the handbook: an intervention may make one of another
	strata  []stratum
	cases   []suspect.Case
	at      []place // by case
	sound   bool    // nothing is wrong with the cases
	own     int     // where the cases begin that base does not have
	base    *Population
	store   *store
	gate    *gate // of all populations with the same base
	stands  *stands
}

// place is where a case comes from.
type place struct{ stratum, draw int32 }

var _ suspect.Population = (*Population)(nil)

// New draws the vehicles of the rigs that agree with the facts. What they read is
// not solved yet. It returns [ErrNoRig] where there is no such rig, and an error
// where the handbook has no such tree or a rig cannot be solved.
func New(ctx context.Context, h Handbook, o Options) (*Population, error) {
	tree := h.Forest.Tree(o.Tree)
	if tree == nil && o.Tree != "" {
		return nil, fmt.Errorf("there is no tree %q", o.Tree)
	}
	rigs, err := agreeing(h, o, tree)
	if err != nil {
		return nil, err
	}
	if o.Cases <= 0 {
		o.Cases = usualCases
	}
	if o.Workers < 1 {
		o.Workers = runtime.GOMAXPROCS(0)
	}
	p := &Population{forest: h.Forest, tree: tree, seed: o.Seed, workers: o.Workers, rigs: rigs, benches: map[*rig.Rig]*bench.Bench{}, store: newStore(), gate: newGate(), stands: &stands{byID: map[string]Stand{}}}
	p.all = slices.SortedFunc(slices.Values(h.Rigs), byID)
	for _, r := range p.all {
		if p.benches[r], err = bench.New(r); err != nil {
			return nil, err
		}
		if err := ctx.Err(); err != nil {
			return nil, err
		}
	}
	faults := slices.Clone(h.Faults)
	slices.SortFunc(faults, func(a, b *rig.Fault) int { return cmp.Compare(a.ID, b.ID) })
	p.strata = allot(rigs, faults, o.Cases)
	for i := range p.strata {
		p.add(i, 0, p.strata[i].draws)
	}
	return p, nil
}

// Agreeing lists the rigs of a handbook that agree with some facts, by id: those of which
// [New] draws vehicles for them.
func Agreeing(h Handbook, facts map[string]string) []*rig.Rig {
	rigs, _ := agreeing(h, Options{Facts: facts}, nil) // the error says that there are none
	return rigs
}

// agreeing lists the rigs that agree with what is known, before which a reader of the
// tree may stand, by id.
func agreeing(h Handbook, o Options, tree *faulttree.Tree) ([]*rig.Rig, error) {
	var rigs []*rig.Rig
	for _, r := range h.Rigs {
		if states(r, o.Facts) && (tree == nil || slices.Contains(r.Trees, tree.ID)) {
			rigs = append(rigs, r)
		}
	}
	for _, of := range bySystem(rigs) {
		agrees := func(r *rig.Rig) bool { return states(r, o.Implied) }
		if slices.ContainsFunc(of, agrees) {
			rigs = slices.DeleteFunc(rigs, func(r *rig.Rig) bool { return slices.Contains(of, r) && !agrees(r) })
		}
	}
	if len(rigs) == 0 {
		return nil, ErrNoRig
	}
	slices.SortFunc(rigs, byID)
	return rigs, nil
}

// states reports whether a rig states nothing else than some facts; of one without a
// choice nothing is known.
func states(r *rig.Rig, facts map[string]string) bool {
	for fact, choice := range facts {
		if choice != "" && r.Facts[fact] != "" && r.Facts[fact] != choice {
			return false
		}
	}
	return true
}

func byID(a, b *rig.Rig) int { return cmp.Compare(a.ID, b.ID) }

// add appends the draws of a stratum from one number to another.
func (p *Population) add(i, from, to int) {
	s := &p.strata[i]
	for n := from; n < to; n++ {
		c := suspect.Case{Rig: s.Rig.ID, System: system(s.Rig), Weight: s.weight / float64(s.draws)}
		if !p.sound {
			c.Faults = s.placed(n)
		}
		p.cases = append(p.cases, c)
		p.at = append(p.at, place{int32(i), int32(n)})
	}
}

// directSystem is the 12 V side.
const directSystem = "12 V"

// system names what a rig belongs to: with a battery it is the 12 V side.
func system(r *rig.Rig) string {
	if slices.ContainsFunc(r.Parts, func(p rig.Part) bool { return p.Kind == rig.Source && p.Direct }) {
		return directSystem
	}
	return "120 V"
}

// Cases are the vehicles. The slice is the population's own.
func (p *Population) Cases() []suspect.Case { return p.cases }

// Vehicle is the rig and the numbers of a case, to put it on a bench.
func (p *Population) Vehicle(i int) (*rig.Rig, rig.Setup) {
	s := &p.strata[p.at[i].stratum]
	setup := s.setup(p.seed, int(p.at[i].draw))
	if p.sound {
		setup.Faults = nil
	}
	return s.Rig, setup
}

// Stratum is what a case is a draw of.
func (p *Population) Stratum(i int) Stratum { return p.strata[p.at[i].stratum].Stratum }

// More is the population with n more draws of the strata of some cases, shared by
// how many of the cases each has. What a stratum weighs is shared by all its draws.
func (p *Population) More(ctx context.Context, near []int, n int) (suspect.Population, error) {
	of := make([]int, len(p.strata))
	for _, i := range near {
		if i < 0 || i >= len(p.cases) {
			return nil, fmt.Errorf("there is no case %d among %d", i, len(p.cases))
		}
		of[p.at[i].stratum]++
	}
	more := *p
	more.base, more.own, more.store = p, len(p.cases), newStore()
	more.strata, more.cases, more.at = slices.Clone(p.strata), slices.Clone(p.cases), slices.Clone(p.at)
	before := 0
	for i, some := range of {
		part := (before+some)*n/max(1, len(near)) - before*n/max(1, len(near))
		before += some
		if part > 0 {
			more.strata[i].draws += part
			more.add(i, p.strata[i].draws, more.strata[i].draws)
		}
	}
	for i := range p.cases {
		s := &more.strata[p.at[i].stratum]
		more.cases[i].Weight = s.weight / float64(s.draws)
	}
	return &more, ctx.Err()
}

// Only is some cases of the population by themselves, by their indices: what is
// not solved yet for all is solved for these alone, which takes a small part of the
// time.
func (p *Population) Only(cases []int) suspect.Population { return p.only(cases) }

// Sound is the same vehicles before anything went wrong with them: their numbers, and no
// fault, but for what their rig shows by itself.
func (p *Population) Sound() suspect.Population {
	before := *p
	before.sound, before.base, before.own, before.store = true, nil, 0, newStore()
	before.cases = slices.Clone(p.cases)
	for i := range before.cases {
		before.cases[i].Faults = nil
	}
	return &before
}

// Weighed is [Population.Only] with how often each of the cases is met instead.
func (p *Population) Weighed(cases []int, weights []float64) *Population {
	few := p.only(cases)
	for k, w := range weights {
		few.cases[k].Weight = w
	}
	return few
}

func (p *Population) only(cases []int) *Population {
	few := *p
	few.base, few.own, few.store = nil, 0, newStore()
	few.cases, few.at = make([]suspect.Case, len(cases)), make([]place, len(cases))
	for k, i := range cases {
		few.cases[k], few.at[k] = p.cases[i], p.at[i]
	}
	names, columns := p.store.all()
	for n, column := range columns {
		some := make([]float32, len(cases))
		for k, i := range cases {
			some[k] = column[i]
		}
		columns[n] = some
	}
	few.store.put(names, columns)
	return &few
}
