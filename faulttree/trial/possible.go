package trial

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"
)

// OfPossible is what a belief earns where a tree earns its isolation: of the faults,
// and of what is to be done. The belief ([faultwright/faulttree/suspect]) weighs
// vehicles drawn from another seed, as often as the trial draws them, by the facts,
// by what is seen without a meter, and by readings; it names the fewest faults that
// hold nine tenths of the probability of faults, and earns 1/|group| for each that
// is there. It names nothing where the share of a sound vehicle is so high that
// else it would call more than one sound vehicle in twenty faulty. A tree that names
// fewer than the readings allow to tell apart earns no more than the belief can. All
// is over the vehicles judged; a fault of the meter is to a belief no suspect but a
// wrong reading, and left out.
type OfPossible struct {
	Judged int `json:"judged"` // walks over vehicles with a fault
	// IsolationOfPossible is the tree's share of what the belief earns with every
	// reading that walks of the role take, Possible what that is; 0 if it was left
	// out. PossibleAsked is what it earns with the readings that the walks took
	// themselves: the rest up to Possible is lost by what is not asked.
	IsolationOfPossible float64 `json:"isolation_of_possible"`
	IsolationError      float64 `json:"isolation_of_possible_error"` // standard error by chance of the draws
	Possible            float64 `json:"possible"`
	PossibleAsked       float64 `json:"possible_asked"`
	TaskOfPossible      float64 `json:"task_of_possible"`
	TaskError           float64 `json:"task_of_possible_error"`
	TaskPossible        float64 `json:"task_possible"`
	TaskPossibleAsked   float64 `json:"task_possible_asked"`
}

// minds is what beliefs say of a vehicle: by role after all readings, and after
// those of each ending of its walks.
type minds struct {
	all  [2]*belief
	ends []*belief
}

// compareWithBelief compares the tree with beliefs.
func (t *trial) compareWithBelief(ctx context.Context, n *tally, r *Report) error {
	j, err := t.newJudge(ctx, n)
	if err != nil {
		return err
	}
	said := make([]minds, len(t.data.judged))
	err = t.inParallel(ctx, len(said), func(i int) error {
		v := &t.data.judged[i]
		if v.fault >= 0 && t.onlyMeter(v.fault) {
			return nil
		}
		told := 0
		for role := range roles {
			evidence := j.all(v, roles[role])
			if role > 0 && len(evidence) == told { // it has all of the owner's
				said[i].all[role] = said[i].all[role-1]
				continue
			}
			b, err := j.believe(ctx, v, evidence)
			if err != nil {
				return err
			}
			said[i].all[role], told = b, len(evidence)
		}
		for _, e := range v.ends {
			b, err := j.believe(ctx, v, j.taken(e.walk))
			if err != nil {
				return err
			}
			said[i].ends = append(said[i].ends, b)
		}
		return nil
	})
	if err != nil {
		return err
	}
	byFault, byTask := newPossible(j.faultSets()), newPossible(j.errandSets())
	for role := range roles {
		if err := j.separable(ctx, said, role, r); err != nil {
			return err
		}
		limits := j.limits(said, role)
		for i := range said {
			if v := &t.data.judged[i]; v.fault >= 0 && said[i].ends != nil {
				w := slices.Index(j.wrongs, t.wrongOf(v.stratum))
				fault := t.plan.id(v.fault)
				byFault.add(v, role, said[i], limits, w, fault, func(end int) float64 { return t.credit(v.stratum, end) })
				byTask.add(v, role, said[i], limits, w, fault, func(end int) float64 { return j.taskCredit(w, end) })
			}
		}
	}
	p := &r.OfPossible
	p.Judged = len(byFault.own)
	p.IsolationOfPossible, p.IsolationError = byFault.share()
	p.Possible, p.PossibleAsked, r.Together = mean(sumOf(byFault.can), p.Judged), mean(sumOf(byFault.asked), p.Judged), byFault.groups()
	p.TaskOfPossible, p.TaskError = byTask.share()
	p.TaskPossible, p.TaskPossibleAsked, r.TasksTogether = mean(sumOf(byTask.can), p.Judged), mean(sumOf(byTask.asked), p.Judged), byTask.groups()
	r.Missed = byTask.misses()
	return j.part(said, r)
}

// limits is the share of a sound vehicle below which one is called faulty, of a
// role: after all readings, and after those of its walks.
func (j *judge) limits(said []minds, role int) (limits [2]float64) {
	var all, asked []float64
	for i, m := range said {
		v := &j.data.judged[i]
		if v.fault >= 0 || m.ends == nil {
			continue
		}
		all = append(all, m.all[role].noFault())
		least := 1.0
		for k, e := range v.ends {
			if e.roles[role] {
				least = min(least, m.ends[k].noFault())
			}
		}
		asked = append(asked, least)
	}
	return [2]float64{limitOf(all), limitOf(asked)}
}

// taskCredit is what the tree earns for an ending where what is to be done counts.
func (j *judge) taskCredit(w, endpoint int) float64 {
	named := 0
	for _, k := range j.errands.sets[j.errands.needs[j.wrongs[w]]-1] {
		if slices.Contains(j.pointed[endpoint], j.errands.tasks[k]) {
			named++
		}
	}
	return mean(float64(named), len(j.pointed[endpoint]))
}

// possible adds up what a tree earns, and a belief, over walks with a fault.
type possible struct {
	sets
	own, can, asked []float64      // by walk
	together        map[string]int // by names, how often several are named of which one is there
	missed          map[string]*Missed
}

func newPossible(s sets) *possible {
	return &possible{sets: s, together: map[string]int{}, missed: map[string]*Missed{}}
}

// add adds the walks of a role over a vehicle: of open choices the ending that
// earns least. Credit is what the tree earns at an endpoint.
func (p *possible) add(v *judged, role int, m minds, limits [2]float64, w int, fault string, credit func(endpoint int) float64) {
	there := p.of[w]
	group := p.named(m.all[role], limits[0])
	can := p.credit(group, there)
	own, asked := 1.0, 1.0
	for k, e := range v.ends {
		if e.roles[role] {
			own = min(own, credit(e.endpoint))
			asked = min(asked, p.credit(p.named(m.ends[k], limits[1]), there))
		}
	}
	if len(group) > 0 {
		own = min(own, 1/float64(len(group)))
	}
	p.own, p.can, p.asked = append(p.own, own), append(p.can, can), append(p.asked, asked)
	if p.missed[fault] == nil {
		p.missed[fault] = &Missed{Fault: fault}
	}
	lost := p.missed[fault]
	lost.Walks++
	lost.Own, lost.Possible = lost.Own+own, lost.Possible+can
	if len(group) > 1 && can > 0 && can < 1 {
		var names []string
		for _, k := range group {
			names = append(names, p.name(k))
		}
		slices.Sort(names)
		p.together[strings.Join(names, "; ")]++
	}
}

// share is what the tree earns of the possible, at most 1, and its standard error
// (of a ratio of sums, to first order); 0 where nothing is possible.
func (p *possible) share() (share, deviation float64) {
	own, can := 0.0, 0.0
	for i := range p.own {
		own, can = own+p.own[i], can+p.can[i]
	}
	if can == 0 {
		return 0, 0
	}
	share = own / can
	squares := 0.0
	for i := range p.own {
		off := p.own[i] - share*p.can[i]
		squares += off * off
	}
	return min(1, share), math.Sqrt(squares) / can
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
	Possible float64 `json:"possible"` // the belief's
}

// misses lists the faults where the tree earns less than is possible, what that
// costs most first.
func (p *possible) misses() []Missed {
	out := []Missed{}
	for _, x := range p.missed {
		if x.Possible > x.Own {
			out = append(out, Missed{x.Fault, x.Walks, mean(float64(x.Walks), len(p.own)), mean(x.Own, x.Walks), mean(x.Possible, x.Walks)})
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
		if x := mean(float64(walks), len(p.own)); x >= leastTogether {
			out = append(out, Together{strings.Split(names, "; "), x})
		}
	}
	slices.SortFunc(out, func(a, b Together) int {
		return cmp.Or(cmp.Compare(b.Share, a.Share), slices.Compare(a.Names, b.Names))
	})
	return out
}
