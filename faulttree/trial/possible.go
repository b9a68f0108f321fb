package trial

import (
	"cmp"
	"context"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree/lists"
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

// mostJudged is how many vehicles beliefs judge, of few a quarter. With so many a
// share of the possible has a standard error of about a hundredth.
const mostJudged = 1000

// judged is a vehicle and what beliefs say of it, by role.
type judged struct {
	stratum
	number int // of the draw
	at     int // an index into the strata of the plan
	all    [2]*belief
	ends   [2][]judgedEnd
}

// judgedEnd is an ending of a walk with the belief after its readings.
type judgedEnd struct {
	endpoint int
	*belief
}

// judgeAll has beliefs judge vehicles spread evenly over those of the plan, of
// which the fault is not the meter's alone.
func (j *judge) judgeAll(ctx context.Context) ([]judged, error) {
	var numbers []int
	some := min(mostJudged, (j.plan.inside+3)/4)
	for i := range some {
		number := i * j.plan.inside / some
		if s, _ := j.plan.stratumOf(number); s.fault < 0 || !j.onlyMeter(s.fault) {
			numbers = append(numbers, number)
		}
	}
	picked := *j.trial
	picked.plan, picked.options.Progress = j.plan.pick(numbers), nil
	out := make([]judged, len(numbers))
	err := picked.eachDraw(ctx, len(numbers), func(_ int, w *worker, s stratum, i int) error {
		k, err := w.before(s, i)
		if err != nil {
			return err
		}
		out[i] = judged{stratum: s, number: numbers[i], at: j.plan.indexOf(numbers[i])}
		return j.judge(ctx, k, &out[i])
	})
	return out, err
}

// judge fills in what beliefs say of the reader's vehicle. Where the owner's walk was
// not handed over, a qualified person's would be the same.
func (j *judge) judge(ctx context.Context, k *reader, v *judged) error {
	told := -1
	for role := range roles {
		evidence, err := j.all(k, roles[role])
		if err != nil {
			return err
		}
		if len(evidence) == told { // an owner has as much
			v.all[role] = v.all[role-1]
		} else if v.all[role], err = j.believe(ctx, v.rig, evidence); err != nil {
			return err
		}
		told = len(evidence)
		if role > 0 && !slices.ContainsFunc(v.ends[role-1], func(e judgedEnd) bool { return j.endpoints[e.endpoint].handed }) {
			v.ends[role] = v.ends[role-1]
			continue
		}
		ends, err := j.walk(k, roles[role])
		if err != nil {
			return err
		}
		for _, e := range ends {
			b, err := j.believe(ctx, v.rig, j.taken(e.walk))
			if err != nil {
				return err
			}
			v.ends[role] = append(v.ends[role], judgedEnd{e.endpoint, b})
		}
	}
	return nil
}

// compareWithBelief compares the tree with beliefs.
func (t *trial) compareWithBelief(ctx context.Context, n *tally, r *Report) error {
	j, err := t.newJudge(ctx, n)
	if err != nil {
		return err
	}
	all, err := j.judgeAll(ctx)
	if err != nil {
		return err
	}
	byFault, byTask := newPossible(j.faults), newPossible(j.taskSets)
	for role := range roles {
		if err := j.separable(ctx, all, role, r); err != nil {
			return err
		}
		limits := limits(all, role)
		for i := range all {
			if v := &all[i]; v.fault >= 0 {
				fault := t.plan.id(v.fault)
				byFault.add(v, role, limits, fault, func(end int) float64 { return t.credit(v.stratum, end) })
				byTask.add(v, role, limits, fault, func(end int) float64 { return j.taskCredit(v.at, end) })
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
	return j.part(all, r)
}

// limits is the share of a sound vehicle below which one is called faulty, of a
// role: after all readings, and after those of its walks.
func limits(judged []judged, role int) [2]float64 {
	var all, asked []float64
	for _, v := range judged {
		if v.fault >= 0 {
			continue
		}
		all = append(all, v.all[role].noFault)
		least := 1.0
		for _, e := range v.ends[role] {
			least = min(least, e.noFault)
		}
		asked = append(asked, least)
	}
	return [2]float64{limitOf(all), limitOf(asked)}
}

// taskCredit is what the tree earns for an ending of a vehicle of a stratum where
// what is to be done counts.
func (j *judge) taskCredit(stratum, endpoint int) float64 {
	named := lists.Count(j.taskSets.all[j.taskSets.of[stratum]-1], func(k int) bool { return slices.Contains(j.pointed[endpoint], j.tasks[k]) })
	return mean(float64(named), len(j.pointed[endpoint]))
}

// possible adds up what a tree earns, and a belief, over walks with a fault.
type possible struct {
	sets
	own, can, asked []float64      // by walk, those of the owner first
	together        map[string]int // by names, how often several are named of which one is there
	missed          map[string]*Missed
}

func newPossible(s sets) *possible {
	return &possible{sets: s, together: map[string]int{}, missed: map[string]*Missed{}}
}

// add adds the walks of a role over a vehicle: of open choices the ending that
// earns least. Credit is what the tree earns at an endpoint.
func (p *possible) add(v *judged, role int, limits [2]float64, fault string, credit func(endpoint int) float64) {
	there := p.of[v.at]
	group := p.named(v.all[role], limits[0])
	can := p.credit(group, there)
	own, asked := 1.0, 1.0
	for _, e := range v.ends[role] {
		own = min(own, credit(e.endpoint))
		asked = min(asked, p.credit(p.named(e.belief, limits[1]), there))
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
		names := lists.Each(group, p.name)
		slices.Sort(names)
		p.together[strings.Join(names, "; ")]++
	}
}

// share is what the tree earns of the possible, at most 1, and its standard error
// (of a ratio of sums, to first order, the walks of both roles over a vehicle taken
// together), rather too large, for the vehicles are spread evenly over the faults; 0
// where nothing is possible.
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
	for i, other := 0, len(p.own)/2; other < len(p.own); i, other = i+1, other+1 {
		off := p.own[i] + p.own[other] - share*(p.can[i]+p.can[other])
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
