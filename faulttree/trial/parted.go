package trial

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
)

// Parted is vehicles about which a belief, after the readings of the walk itself,
// says something else than the finding where the walk ended.
type Parted struct {
	Kind    string  `json:"kind"`   // danger: a dangerous fault is not unlikely behind a milder finding that neither names nor declares it; errand: something else is to be done
	Says    string  `json:"says"`   // fault@place; the place and who repairs, or no-fault
	Walks   int     `json:"walks"`  // of those judged
	Share   float64 `json:"share"`  // of the walks judged that ended there
	Belief  float64 `json:"belief"` // what it gives to that, in the mean
	Right   float64 `json:"right"`  // share of these walks in which it is so
	Draw    int     `json:"draw"`   // the one that it is surest of, for [See]
	Vehicle string  `json:"vehicle"`
	Path    string  `json:"path"`
}

const (
	sure       = 0.9  // share from which on a belief is sure of an errand
	notSeldom  = 0.05 // share from which on a danger is not unlikely
	mostParted = 5    // lines at a finding
)

// The kinds of [Parted].
const (
	PartedDanger = "danger"
	PartedErrand = "errand"
)

// part fills in where the findings and the beliefs part.
func (j *judge) part(said []minds, r *Report) error {
	walks := make([]int, len(j.endpoints))
	parted := make([]partings, len(j.endpoints))
	for i, m := range said {
		v := &j.data.judged[i]
		for k, b := range m.ends {
			e := v.ends[k]
			if j.endpoints[e.endpoint].handed {
				continue
			}
			times := 0
			for _, is := range e.roles {
				if is {
					times++
				}
			}
			walks[e.endpoint] += times
			if parted[e.endpoint] == nil {
				parted[e.endpoint] = partings{}
			}
			for _, p := range j.partsFrom(v, e.endpoint, b) {
				parted[e.endpoint].add(p, times)
			}
		}
	}
	see := j.newWorker()
	for f, all := range parted {
		out := &r.Findings[f].Parted
		for _, p := range all {
			p.Share, p.Belief, p.Right = mean(float64(p.Walks), walks[f]), p.Belief/float64(p.Walks), p.Right/float64(p.Walks)
			*out = append(*out, p.Parted)
		}
		slices.SortFunc(*out, func(a, b Parted) int {
			return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(b.Right*b.Share, a.Right*a.Share), cmp.Compare(b.Walks, a.Walks), cmp.Compare(a.Says, b.Says))
		})
		*out = (*out)[:min(mostParted, len(*out))]
		for i := range *out {
			p := &(*out)[i]
			var err error
			if p.Vehicle, p.Path, err = see.example(p.Draw, f); err != nil {
				return err
			}
		}
	}
	return nil
}

// partsFrom lists where a belief about a vehicle parts from an endpoint.
func (j *judge) partsFrom(v *judged, endpoint int, b *belief) []Parted {
	var out []Parted
	f := &j.endpoints[endpoint]
	own := j.wrongOf(v.stratum)
	errands := make([]float64, len(j.errands.tasks))
	dangers := map[faulttree.FaultAt]float64{}
	for w, share := range b.shares {
		if w == 0 || share == 0 {
			continue
		}
		for _, k := range j.errands.sets[j.errands.needs[j.wrongs[w]]-1] {
			errands[k] += share
		}
		for _, at := range j.faultsOf(j.wrongs[w]) {
			dangers[at] += share
		}
	}
	add := func(kind, says string, share float64, right bool) {
		p := Parted{Kind: kind, Says: says, Walks: 1, Belief: share, Draw: v.number}
		if right {
			p.Right = 1
		}
		out = append(out, p)
	}
	for k, share := range errands {
		if share >= sure && !slices.Contains(j.pointed[endpoint], j.errands.tasks[k]) {
			add(PartedErrand, j.errands.tasks[k].String(), share, slices.Contains(j.tasksOf(own), j.errands.tasks[k]))
		}
	}
	if share := b.shares[0]; share >= sure && len(j.pointed[endpoint]) > 0 {
		add(PartedErrand, NoFault, share, v.fault < 0)
	}
	for i, fault := range j.plan.faults {
		if fault.Hazard != faulttree.Danger || f.named[i] || f.finding.Signal == faulttree.Danger {
			continue
		}
		for _, place := range fault.Places() {
			at := faulttree.FaultAt{Fault: fault.ID, Place: place}
			if share := dangers[at]; share >= notSeldom && within(j.plan.tree, place) && !f.finding.Declares(at) {
				add(PartedDanger, at.String(), share, slices.Contains(j.faultsOf(own), at))
			}
		}
	}
	return out
}

// partings is what parts at an endpoint, added up, by kind and what the belief
// says.
type partings map[string]*parting

type parting struct {
	Parted
	surest float64
}

// add counts what parts in one walk, or in the same walk of both roles.
func (n partings) add(p Parted, times int) {
	key := p.Kind + " " + p.Says
	if n[key] == nil {
		n[key] = &parting{Parted: Parted{Kind: p.Kind, Says: p.Says}}
	}
	sum := n[key]
	sum.Walks += times
	sum.Belief += float64(times) * p.Belief
	sum.Right += float64(times) * p.Right
	if p.Belief > sum.surest {
		sum.surest, sum.Draw = p.Belief, p.Draw
	}
}
