package trial

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/vehicle"
)

// judge compares a tree with what beliefs say of the vehicles judged.
type judge struct {
	*trial
	faults, taskSets sets
	tasks            []task // what the task sets are made of
	peers            []*peers
	minds            []*suspect.Reasoner // of peers
	at               map[*rig.Rig]int    // an index into peers
	pointed          [][]task            // by endpoint
	gates            [2]*gates
}

func (t *trial) newJudge(ctx context.Context, n *tally) (*judge, error) {
	j := &judge{trial: t, faults: t.faultSets(), at: map[*rig.Rig]int{}, gates: n.gates}
	j.taskSets, j.tasks = t.findTaskSets()
	assumed := suspect.CommonPractice()
	assumed.Wrong, assumed.More = max(t.options.Wrong, leastWrong), 0 // the peers are shared by all that are judged
	for i, p := range t.peers {
		if t.plan.picked != nil {
			var err error
			if p, err = p.complaining(ctx, t.plan); err != nil {
				return nil, err
			}
		}
		for _, r := range p.rigs {
			j.at[r] = i
		}
		j.peers = append(j.peers, p)
		j.minds = append(j.minds, suspect.New(p, t.face.Model, func(string, faulttree.Place) suspect.Described { return suspect.Described{} }).Assuming(assumed))
	}
	for i := range t.endpoints {
		j.pointed = append(j.pointed, t.pointedAt(n.tasks, i, whole))
	}
	return j, nil
}

// leastWrong is the chance that a reading is wrong with which a belief counts where
// none goes wrong: no single one rules out what all others show.
const leastWrong = 0.001

// wrongOf is what is wrong with the vehicles of a stratum.
func (t *trial) wrongOf(s stratum) wrong {
	if s.fault < 0 {
		return wrong{}
	}
	return wrong{s.group, t.plan.faults[s.fault].Variants[s.variant].Place}
}

// belief is what is said of one vehicle after some readings.
type belief struct {
	shares  []float64 // by stratum of the plan; "none of these" has the rest
	sound   float64   // share of sound vehicles
	noFault float64   // the same among all that were drawn
	likely  []likely  // the cases that hold nearly all
}

// likely is a case of the peers with its share.
type likely struct {
	at    int32
	share float32
}

// leastLikely is the share below which a case is not kept.
const leastLikely = 1e-4

// believe weighs some evidence about a vehicle of a rig.
func (j *judge) believe(ctx context.Context, r *rig.Rig, evidence []suspect.Evidence) (*belief, error) {
	b, err := j.minds[j.at[r]].Belief(ctx, evidence)
	if err != nil {
		return nil, err
	}
	out := &belief{shares: make([]float64, len(j.plan.strata))}
	for i, share := range b.Shares() {
		at := j.peers[j.at[r]].of[i]
		out.shares[at] += share
		if j.plan.strata[at].group == 0 {
			out.sound += share
		}
		if share >= leastLikely {
			out.likely = append(out.likely, likely{int32(i), float32(share)})
		}
	}
	out.noFault = out.sound / sumOf(out.shares)
	return out, nil
}

// all is every reading of a vehicle that walks of a role take, and what is seen on
// their way where only one choice fits.
func (j *judge) all(k *reader, role faulttree.Role) (out []suspect.Evidence, err error) {
	for i, q := range j.data.quantities[:j.data.quantityCount[role]] {
		if !j.gates[role].taken[i] || q.OfMeter() {
			continue
		}
		r, err := k.reading(q, 1)
		if err != nil {
			return nil, err
		}
		out = append(out, suspect.Evidence{Quantity: q, Reading: r})
	}
	for _, look := range j.data.looks {
		if look.For > role {
			continue
		}
		fit, err := vehicle.Walker{Value: k.vehicle.Taken, Vehicle: k.vehicle}.Choices(look)
		if err != nil {
			return nil, err
		}
		if len(fit) == 1 {
			out = append(out, suspect.Evidence{Seen: &suspect.Seen{Observation: look.Ref().String(), Choice: fit[0].Choice}})
		}
	}
	return out, nil
}

// taken is what a walk found out on its own way.
func (j *judge) taken(w faulttree.Walk) []suspect.Evidence {
	var out []suspect.Evidence
	for _, e := range w.Trail() {
		asked := w.Asked(e.Step)
		for i, r := range e.Answer.Readings {
			if i < len(asked.Measure) && !asked.Measure[i].Quantity.OfMeter() {
				out = append(out, suspect.Evidence{Quantity: asked.Measure[i].Quantity, Reading: r})
			}
		}
		if asked.Kind == faulttree.KindObserve {
			out = append(out, suspect.Evidence{Seen: &suspect.Seen{Observation: e.Step.String(), Choice: e.Answer.Choice}})
		}
	}
	return out
}

func sumOf(shares []float64) float64 {
	sum := 0.0
	for _, x := range shares {
		sum += x
	}
	return max(sum, math.SmallestNonzeroFloat64)
}

// sets is what is there together in a vehicle, for a belief to name: its faults, or
// its tasks.
type sets struct {
	all  []faultGroup
	of   []int // by stratum of the plan, an index into all and one more; 0 is nothing
	name func(int) string
}

func (t *trial) faultSets() sets {
	s := sets{all: t.plan.groups, name: t.plan.id}
	for _, stratum := range t.plan.strata {
		s.of = append(s.of, stratum.group)
	}
	return s
}

// findTaskSets also lists all tasks that some vehicle of the plan needs: the tasks
// are indices into them.
func (t *trial) findTaskSets() (s sets, tasks []task) {
	for _, stratum := range t.plan.strata {
		var set faultGroup
		for _, k := range t.tasksOf(t.wrongOf(stratum)) {
			at := slices.Index(tasks, k)
			if at < 0 {
				at, tasks = len(tasks), append(tasks, k)
			}
			set = lists.With(set, at)
		}
		at := slices.IndexFunc(s.all, func(o faultGroup) bool { return slices.Equal(o, set) })
		switch {
		case len(set) == 0:
		case at < 0:
			at, s.all = len(s.all), append(s.all, set)
		}
		s.of = append(s.of, at+1)
	}
	s.name = func(k int) string { return tasks[k].String() }
	return s, tasks
}

const (
	minSpecificity = 0.95 // share of sound vehicles that must not be called faulty
	groupShare     = 0.9  // share of the probability of faults that an ambiguity group holds
)

// named is the fewest of some sets that hold nine tenths of what a belief gives to
// faults, chosen one after the other by how probable they are; none where the share
// of a sound vehicle reaches a limit.
func (s sets) named(b *belief, limit float64) []int {
	if b.noFault >= limit {
		return nil
	}
	p := make([]float64, len(s.all)+1)
	for w, x := range b.shares {
		p[s.of[w]] += x
	}
	all := sumOf(p[1:])
	var named []int
	for left := all; left > (1-groupShare)*all; {
		holds := map[int]float64{}
		best := -1
		for k, set := range s.all {
			if slices.ContainsFunc(set, func(f int) bool { return slices.Contains(named, f) }) {
				continue
			}
			for _, f := range set {
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

// credit is what naming some earns where one of the sets is there: the share of
// them that is.
func (s sets) credit(named []int, there int) float64 {
	right := lists.Count(named, func(k int) bool { return slices.Contains(s.all[there-1], k) })
	return mean(float64(right), len(named))
}

// limitOf is the share of a sound vehicle below which one is called faulty, by those
// of sound vehicles: at most one in twenty of them lies below it. Of fewer than
// twenty that cannot be told, and the likelier counts: a complaint may leave a sound
// vehicle or two, and nothing would be named for the sake of these.
func limitOf(sound []float64) float64 {
	slices.Sort(sound)
	if at := int((1 - minSpecificity) * float64(len(sound))); at > 0 {
		return min(0.5, sound[at])
	}
	return 0.5
}
