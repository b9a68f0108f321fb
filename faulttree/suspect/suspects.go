package suspect

import (
	"cmp"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// Suspect is all cases after which the same is to be done: the same places and
// the same who repairs.
type Suspect struct {
	System  string
	Title   string            // of its likeliest fault
	Faults  []string          // ids, the likeliest first; [NoFault] alone for a sound vehicle
	Places  []faulttree.Place // the likeliest first; none for a sound vehicle
	Parts   []Part            // all faults in it, the likeliest first
	Share   float64           // within its system, of which "none of these" has the rest
	Likely  Likely
	Hazard  faulttree.Signal // the worst of Faults
	Do      string           // the first action for the worst of Faults
	Repairs []Repair         // who repairs, each once, the likeliest fault first
	Worst   *Misfit          // the evidence that fits it worst; nil where none tells anything
	Cases   []int            // the heaviest first, not all
	tasks   []int
}

// Repair is who repairs a fault, and others of the suspect.
type Repair struct {
	Title string // of the likeliest fault that they repair
	By    string
}

// Part is a fault in its place, with its share of the system.
type Part struct {
	At    faulttree.FaultAt
	Share float64
}

// worthNaming is the share of a suspect from which a fault is named for it.
// Dangerous ones below it are still among the open ones.
const worthNaming = 0.05

// mostCases is how many cases a suspect lists.
const mostCases = 64

// nothingBeside is the share of the heaviest case below which one is not listed
// beside it.
const nothingBeside = 1e-3

// noFaultShown is the title of a sound vehicle: readings clear nothing.
const noFaultShown = "no fault that these readings would show"

// Suspects lists the suspects of all systems that the evidence is about, or of
// all systems where it is about none, the likeliest first.
func (b *Belief) Suspects() []Suspect {
	out, cases := b.Brief(), b.casesByTask()
	for i := range out {
		s := &out[i]
		for _, t := range s.tasks {
			s.Cases = slices.Concat(s.Cases, cases[t])
			if b.shareOf(t) == 0 {
				continue
			}
			if worst := b.worst(t, cases[t]); s.Worst == nil || worst != nil && worst.Fit < s.Worst.Fit {
				s.Worst = worst
			}
		}
		b.sortCases(s.Cases)
	}
	return out
}

// Brief is [Belief.Suspects] without their cases, and without what fits them worst, for
// who asks for many: it takes next to no time.
func (b *Belief) Brief() []Suspect {
	out := make([]Suspect, 0, len(b.pool.tasks))
	for t, of := range b.pool.tasks {
		if b.counts(of.system) {
			out = append(out, b.suspect(t))
		}
	}
	sortByShare(out, func(s Suspect) float64 { return s.Share })
	b.word(out)
	out = b.soundInAll(out)
	sortByShare(out, func(s Suspect) float64 { return s.Share })
	return out
}

// soundInAll makes one suspect of the sound vehicles of several systems: a vehicle
// is sound where each of them is, and so likely only as the least likely of them.
func (b *Belief) soundInAll(all []Suspect) []Suspect {
	first := -1
	var out []Suspect
	for _, s := range all {
		switch {
		case !b.pool.tasks[s.tasks[0]].sound:
			out = append(out, s)
		case first < 0:
			first = len(out)
			out = append(out, s)
		default:
			o := &out[first]
			o.System, o.Share, o.Likely = "", o.Share*s.Share, min(o.Likely, s.Likely)
			o.tasks = append(o.tasks, s.tasks...)
		}
	}
	return out
}

// sortCases puts the heaviest first.
func (b *Belief) sortCases(cases []int) {
	slices.SortFunc(cases, func(x, y int) int { return cmp.Or(cmp.Compare(b.share[y], b.share[x]), cmp.Compare(x, y)) })
}

// sortByShare puts the largest share first and keeps the order of equals.
func sortByShare[T any](all []T, share func(T) float64) {
	slices.SortStableFunc(all, func(x, y T) int { return cmp.Compare(share(y), share(x)) })
}

// shareOf is the share of a task.
func (b *Belief) shareOf(task int) float64 {
	share := 0.0
	for i, k := range b.pool.kinds {
		if k.task == task {
			share += b.kinds[i]
		}
	}
	return share
}

// suspect is a task as a suspect, as [Belief.Brief] has it.
func (b *Belief) suspect(t int) Suspect {
	o := b.pool
	s := Suspect{System: o.systems[o.tasks[t].system], tasks: []int{t}, Share: b.shareOf(t)}
	if o.tasks[t].sound {
		d := b.reasoner.describe(NoFault, "")
		s.Title, s.Faults, s.Do, s.Hazard = cmp.Or(d.Title, noFaultShown), []string{NoFault}, d.Do, d.Hazard
		return s
	}
	s.Parts = b.parts(func(k kind) bool { return k.task == t })
	for i, p := range s.Parts {
		d := b.reasoner.describe(p.At.Fault, p.At.Place)
		if d.RepairBy != "" && !slices.ContainsFunc(s.Repairs, func(r Repair) bool { return r.By == d.RepairBy }) {
			s.Repairs = append(s.Repairs, Repair{d.Title, d.RepairBy})
		}
		s.Places = lists.With(s.Places, p.At.Place)
		if i > 0 && p.Share < worthNaming*s.Share {
			continue
		}
		s.Faults = lists.With(s.Faults, p.At.Fault)
		if i == 0 {
			s.Title = d.Title
		}
		if i == 0 || d.Hazard > s.Hazard {
			s.Hazard, s.Do = d.Hazard, d.Do
		}
	}
	return s
}

// parts is the faults of some kinds in their places, the likeliest first.
func (b *Belief) parts(of func(kind) bool) []Part {
	at := map[faulttree.FaultAt]int{}
	var out []Part
	for i, k := range b.pool.kinds {
		if !of(k) {
			continue
		}
		for _, f := range k.faults {
			n, ok := at[f]
			if !ok {
				n = len(out)
				at[f] = n
				out = append(out, Part{At: f})
			}
			out[n].Share += b.kinds[i]
		}
	}
	slices.SortFunc(out, func(x, y Part) int { return cmp.Or(cmp.Compare(y.Share, x.Share), x.At.Compare(y.At)) })
	return out
}

// casesByTask is the heaviest cases of each task.
func (b *Belief) casesByTask() [][]int {
	out := make([][]int, len(b.pool.tasks))
	for c := range b.pool.cells {
		t := b.pool.kinds[b.pool.cells[c].kind].task
		out[t] = append(out[t], b.pool.cells[c].cases...)
	}
	for t, cases := range out {
		most := 0.0
		for _, i := range cases {
			most = max(most, b.share[i])
		}
		near := slices.DeleteFunc(cases, func(i int) bool { return b.share[i] < most*nothingBeside })
		b.sortCases(near)
		out[t] = near[:min(len(near), mostCases)]
	}
	return out
}

// word says in words how likely each suspect is, beside the others of its system
// and "none of these". One whose Bayes factor beside a sound vehicle is small is
// not among those: nothing told so far was a test for it.
func (b *Belief) word(all []Suspect) {
	factors := b.bayesFactors()
	for i, name := range b.pool.systems {
		var own []*Suspect
		for j := range all {
			s := &all[j]
			if s.System != name {
				continue
			}
			if b.systems[i].pieces > 0 && s.Share >= possible && factors[s.tasks[0]] < leastBayesFactor && !b.pool.tasks[s.tasks[0]].sound {
				s.Likely = NotTested
				continue
			}
			own = append(own, s)
		}
		for j, s := range own {
			next := b.systems[i].none
			if j+1 < len(own) {
				next = max(next, own[j+1].Share)
			}
			s.Likely = likely(s.Share, j == 0, next)
		}
	}
}

// bayesFactors is, by task, how many times likelier the evidence has made its
// likeliest kind, beside a sound vehicle of its system.
func (b *Belief) bayesFactors() []float64 {
	o := b.pool
	prior, sound := make([]float64, len(o.kinds)), make([]float64, len(o.systems))
	for _, c := range o.cells {
		prior[c.kind] += c.prior
	}
	gain := func(kind int) float64 { return b.kinds[kind] / max(prior[kind], 1e-300) }
	for i, k := range o.kinds {
		if o.tasks[k.task].sound {
			sound[k.system] = gain(i)
		}
	}
	out, most := make([]float64, len(o.tasks)), make([]float64, len(o.tasks))
	for i, k := range o.kinds {
		if b.kinds[i] > most[k.task] {
			most[k.task], out[k.task] = b.kinds[i], leastBayesFactor
			if sound[k.system] > 0 {
				out[k.task] = gain(i) / sound[k.system]
			}
		}
	}
	return out
}
