package trial

import (
	"context"
	"fmt"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// What a belief is made of: about so many vehicles with a fault at most, drawn from
// another seed than those it judges. With a quarter of them what is possible comes
// out some hundredths lower where many readings are taken.
const (
	mostPeers = 10000
	otherSeed = 0x9e3779b97f4a7c15
)

// peers is the drawn vehicles among which a belief looks for one that is like the
// vehicle judged: of all rigs with the same facts, for its reader knows these.
type peers struct {
	rigs []*rig.Rig
	*drawn.Population
	of []int // by case, the index of its stratum in the plan
}

// complained is the id of the observation that a vehicle has the complaint of the
// tree, and of the choice that it has.
const complained = "the complaint"

// newPeers draws them. In small trials they are fewer.
func (t *trial) newPeers(ctx context.Context) ([]*peers, error) {
	var out []*peers
	at := map[string]*peers{}
	for _, r := range t.plan.rigs {
		facts := fmt.Sprint(r.Facts)
		if at[facts] == nil {
			at[facts] = &peers{}
			out = append(out, at[facts])
		}
		at[facts].rigs = append(at[facts].rigs, r)
	}
	forest := *t.forest
	forest.Observations = t.lookedAt()
	for i, p := range out {
		all, err := drawn.New(ctx, drawn.Handbook{Forest: &forest, Rigs: p.rigs, Faults: t.plan.faults}, drawn.Options{Seed: t.options.Seed ^ otherSeed, Workers: t.options.Workers})
		if err != nil {
			return nil, err
		}
		most := 1 + min(mostPeers, t.options.Rigs)*len(t.plan.rigs)/len(p.rigs)/len(t.plan.strata)
		out[i] = (&peers{p.rigs, all, nil}).as(t.plan, func(i, before int) bool {
			return before < most || all.Stratum(i).Ways == nil && before < t.options.Rigs
		})
		if err := out[i].Columns(ctx, t.data.quantities...); err != nil {
			return nil, err
		}
	}
	return out, nil
}

// as is the vehicles that a plan draws too, weighed as often as it draws them. Only
// those are taken that take says, of a case and how many of its stratum were taken
// before. A stratum of which none is taken has no weight.
func (p *peers) as(plan *plan, take func(i, before int) bool) *peers {
	type way struct {
		rig     *rig.Rig
		fault   string
		variant int
	}
	strata := map[way]int{}
	for i, s := range plan.strata {
		if s.from < plan.inside {
			strata[way{s.rig, plan.id(s.fault), s.variant}] = i
		}
	}
	out := &peers{rigs: p.rigs}
	var taken []int
	times := make([]int, len(plan.strata))
	for i := range p.Cases() {
		s := p.Stratum(i)
		is := way{s.Rig, NoFault, 0}
		if len(s.Ways) > 0 {
			is.fault, is.variant = s.Ways[0].Fault.ID, s.Ways[0].Variant
		}
		if at, ok := strata[is]; ok && len(s.Ways) < 2 && take(i, times[at]) {
			taken, out.of = append(taken, i), append(out.of, at)
			times[at]++
		}
	}
	weights := make([]float64, len(taken))
	for k, at := range out.of {
		weights[k] = float64(plan.strata[at].to-plan.strata[at].from) / float64(times[at])
	}
	out.Population = p.Weighed(taken, weights)
	return out
}

// complaining is the peers that have the complaint of the tree, as often as a plan
// draws them.
func (p *peers) complaining(ctx context.Context, plan *plan) (*peers, error) {
	has, err := p.Seen(ctx, complained, complained)
	if err != nil {
		return nil, err
	}
	return p.as(plan, func(i, _ int) bool { return has[i] > 0.5 }), nil
}

// lookedAt is what is seen without a meter on the way through the tree, and the
// complaint, as observations.
func (t *trial) lookedAt() []faulttree.Observation {
	out := lists.Each(t.data.looks, (*faulttree.Step).Observation)
	if complaint := t.plan.tree.Complaint; len(complaint) > 0 {
		out = append(out, faulttree.Observation{ID: complained, Choices: []faulttree.Sight{{ID: complained, Any: complaint, Often: 1}, {ID: "none", Often: 0.01}}})
	}
	return out
}
