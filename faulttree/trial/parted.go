package trial

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
)

// Parted is vehicles about which a belief, after the readings of the walk itself,
// says something else than the finding where the walk ended.
type Parted struct {
	Kind    string  `json:"kind"`   // danger: a dangerous fault is not unlikely behind a milder finding that neither names nor declares it; task: something else is to be done
	Says    string  `json:"says"`   // fault@place; the place and who repairs, or no-fault
	Walks   int     `json:"walks"`  // of those judged
	Share   float64 `json:"share"`  // of the walks judged that ended there
	Belief  float64 `json:"belief"` // what it gives to that, in the mean
	Right   float64 `json:"right"`  // share of these walks in which it is so
	Draw    int     `json:"draw"`   // the first of them
	Vehicle string  `json:"vehicle"`
	Path    string  `json:"path"`
}

const (
	sure       = 0.9  // share from which on a belief is sure of a task
	notSeldom  = 0.05 // share from which on a danger is not unlikely
	mostParted = 5    // lines at a finding
)

// The kinds of [Parted].
const (
	PartedDanger = "danger"
	PartedTask   = "task"
)

// part fills in where the findings and the beliefs part.
func (j *judge) part(judged []judged, r *Report) error {
	walks := make([]int, len(j.endpoints))
	parted := make([][]Parted, len(j.endpoints))
	for _, v := range judged {
		for _, e := range slices.Concat(v.ends[0], v.ends[1]) {
			if !j.endpoints[e.endpoint].handed {
				walks[e.endpoint]++
				parted[e.endpoint] = j.partsFrom(&v, e, parted[e.endpoint])
			}
		}
	}
	see := j.newWorker()
	for f, all := range parted {
		slices.SortFunc(all, func(a, b Parted) int {
			return cmp.Or(cmp.Compare(a.Kind, b.Kind), cmp.Compare(b.Right, a.Right), cmp.Compare(b.Walks, a.Walks), cmp.Compare(a.Says, b.Says))
		})
		for _, p := range all[:min(mostParted, len(all))] {
			p.Share, p.Belief, p.Right = mean(float64(p.Walks), walks[f]), mean(p.Belief, p.Walks), mean(p.Right, p.Walks)
			var err error
			if p.Vehicle, p.Path, err = see.example(p.Draw, f); err != nil {
				return err
			}
			r.Findings[f].Parted = append(r.Findings[f].Parted, p)
		}
	}
	return nil
}

// partsFrom adds up where beliefs part from an endpoint, with those of one more
// ending of a vehicle.
func (j *judge) partsFrom(v *judged, e judgedEnd, parts []Parted) []Parted {
	f, own := &j.endpoints[e.endpoint], j.wrongOf(v.stratum)
	tasks, dangers := make([]float64, len(j.tasks)), map[faulttree.FaultAt]float64{}
	for i, share := range e.shares {
		if set := j.taskSets.of[i]; share > 0 && set > 0 {
			for _, k := range j.taskSets.all[set-1] {
				tasks[k] += share
			}
			for _, at := range j.faultsOf(j.wrongOf(j.plan.strata[i])) {
				dangers[at] += share
			}
		}
	}
	add := func(kind, says string, share float64, right bool) {
		at := slices.IndexFunc(parts, func(o Parted) bool { return o.Kind == kind && o.Says == says })
		if at < 0 {
			at, parts = len(parts), append(parts, Parted{Kind: kind, Says: says, Draw: v.number})
		}
		parts[at].Walks++
		parts[at].Belief += share
		if right {
			parts[at].Right++
		}
	}
	for k, share := range tasks {
		if task := j.tasks[k]; share >= sure && !slices.Contains(j.pointed[e.endpoint], task) {
			add(PartedTask, task.String(), share, slices.Contains(j.tasksOf(own), task))
		}
	}
	if share := e.sound; share >= sure && len(j.pointed[e.endpoint]) > 0 {
		add(PartedTask, NoFault, share, v.fault < 0)
	}
	for i, fault := range j.plan.faults {
		for _, place := range fault.Places() {
			at := faulttree.FaultAt{Fault: fault.ID, Place: place}
			if dangers[at] >= notSeldom && fault.Hazard == faulttree.Danger && f.finding.Signal < faulttree.Danger &&
				within(j.plan.tree, place) && !f.named[i] && !f.finding.Declares(at) {
				add(PartedDanger, at.String(), dangers[at], slices.Contains(j.faultsOf(own), at))
			}
		}
	}
	return parts
}
