package suspect

import (
	"cmp"
	"slices"
	"strconv"
	"strings"
	"sync"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// pool is a population with its cases sorted by what is wrong with them and by
// what is to be done about it.
type pool struct {
	Population
	cases   []Case
	systems []string
	kinds   []kind
	tasks   []task
	kind    []int32   // of each case
	of      []int32   // system of each case
	prior   []float64 // of each case; they sum to 1 in each system
	cell    []int32   // of each case
	cells   []cell
	sound   [][]int // by system, the sound cases, or all where none is
	equal   *pool   // the same in cells of equal size

	*found
	rooms *sync.Pool // of *room
}

// kind is all cases with the same faults in the same places.
type kind struct {
	system int
	task   int
	faults []faulttree.FaultAt // in order; none: sound
}

// task is what is to be done: some places, and who repairs in each.
type task struct {
	system int
	sound  bool
}

// cell is cases of one kind and rig whose faults are about as severe, enough of them
// to say how each reading is distributed among them.
type cell struct {
	kind  int
	prior float64
	cases []int
}

// newPool sorts a population.
func (r *Reasoner) newPool(p Population) *pool {
	o := &pool{Population: p, cases: p.Cases(), found: newFound(), rooms: &sync.Pool{New: func() any { return &room{} }}}
	o.kind, o.of = make([]int32, len(o.cases)), make([]int32, len(o.cases))
	o.prior = make([]float64, len(o.cases))
	kinds, tasks := map[string]int{}, map[string]int{}
	var sums []float64
	for i := range o.cases {
		c := &o.cases[i]
		system := slices.Index(o.systems, c.System)
		if system < 0 {
			system = len(o.systems)
			o.systems, sums = append(o.systems, c.System), append(sums, 0)
		}
		faults := placed(c.Faults)
		key := keyOf(c.System, faults, faulttree.FaultAt.String)
		k, known := kinds[key]
		if !known {
			k = len(o.kinds)
			kinds[key] = k
			t := intern(tasks, keyOf(c.System, faults, r.taskKey))
			if t == len(o.tasks) {
				o.tasks = append(o.tasks, task{system, len(faults) == 0})
			}
			o.kinds = append(o.kinds, kind{system, t, faults})
		}
		o.kind[i], o.of[i] = int32(k), int32(system)
		o.prior[i] = max(0, c.Weight)
		sums[system] += o.prior[i]
	}
	for i := range o.prior {
		if sum := sums[o.system(i)]; sum > 0 {
			o.prior[i] /= sum
		}
	}
	for system := range o.systems {
		o.sound = append(o.sound, o.soundCases(system))
	}
	o.makeCells()
	return o
}

// A cell has at least so many cases where its kind has them, and a kind so many
// grades of how bad it is.
const (
	leastOfCell = 40
	mostGrades  = 6
)

// makeCells puts the cases of each kind and rig into cells, by how bad they are; and,
// for many readings, into cells with about as many cases each, those of sound vehicles
// too: what is estimated from more cases is sharper, and over a hundred readings that
// alone would decide for the kind of which most were drawn.
func (o *pool) makeCells() {
	at := map[string]int{}
	var groups [][]int
	for i := range o.cases {
		n := intern(at, strconv.Itoa(int(o.kind[i]))+"\x00"+o.cases[i].Rig)
		if n == len(groups) {
			groups = append(groups, nil)
		}
		groups[n] = append(groups[n], i)
	}
	equal := *o
	equal.found = newFound() // other cells
	o.equal, o.cell, equal.cell = &equal, make([]int32, len(o.cases)), make([]int32, len(o.cases))
	for _, of := range groups {
		slices.SortStableFunc(of, func(a, b int) int { return cmp.Compare(o.cases[a].severity(), o.cases[b].severity()) })
		parts := max(1, len(of)/leastOfCell)
		equal.divide(of, parts)
		if o.cases[of[0]].severity() == o.cases[of[len(of)-1]].severity() {
			parts = 1
		}
		o.divide(of, min(parts, mostGrades))
	}
}

// divide makes so many cells of cases of one kind and rig.
func (o *pool) divide(of []int, parts int) {
	for g := range parts {
		c := cell{kind: int(o.kind[of[0]]), cases: of[g*len(of)/parts : (g+1)*len(of)/parts]}
		for _, i := range c.cases {
			o.cell[i] = int32(len(o.cells))
			c.prior += o.prior[i]
		}
		o.cells = append(o.cells, c)
	}
}

// severity is that of the first fault that has one.
func (c *Case) severity() float64 {
	for _, f := range c.Faults {
		if f.Severity != 0 {
			return f.Severity
		}
	}
	return 0
}

// soundCases are the sound ones of a system, or all where none is.
func (o *pool) soundCases(system int) []int {
	var all, sound []int
	for i := range o.cases {
		if k := o.kinds[o.kind[i]]; k.system == system {
			all = append(all, i)
			if len(k.faults) == 0 {
				sound = append(sound, i)
			}
		}
	}
	if len(sound) == 0 {
		return all
	}
	return sound
}

// system is the system of a case.
func (o *pool) system(i int) int { return int(o.of[i]) }

// task is what is to be done about a case.
func (o *pool) task(i int) int { return o.kinds[o.kind[i]].task }

// placed is the faults of a case in order, each once.
func placed(faults []PlacedFault) []faulttree.FaultAt {
	out := lists.Each(faults, func(f PlacedFault) faulttree.FaultAt { return faulttree.FaultAt{Fault: f.Fault, Place: f.Place} })
	slices.SortFunc(out, faulttree.FaultAt.Compare)
	return slices.Compact(out)
}

// taskKey is what is to be done about a fault: where, and by whom.
func (r *Reasoner) taskKey(f faulttree.FaultAt) string {
	return string(f.Place) + "\x01" + r.describe(f.Fault, f.Place).RepairBy
}

// keyOf is a key of a system and of what each fault is, whatever their order.
func keyOf(system string, faults []faulttree.FaultAt, of func(faulttree.FaultAt) string) string {
	parts := lists.Each(faults, of)
	slices.Sort(parts)
	return system + "\x00" + strings.Join(slices.Compact(parts), "\x00")
}

// intern is the number of a key: the next free one where it is new.
func intern(known map[string]int, key string) int {
	n, ok := known[key]
	if !ok {
		n = len(known)
		known[key] = n
	}
	return n
}

// stratum is what further draws are made of.
func stratum(c Case) string {
	var b strings.Builder
	b.WriteString(c.Rig)
	for _, f := range c.Faults {
		b.WriteString("\x00" + f.Fault + "\x01" + string(f.Place) + "\x01" + string(rune(f.Variant)))
	}
	return b.String()
}

// heaviest lists the indices of weights, the heaviest first.
func heaviest(weights []float64) []int {
	out := make([]int, len(weights))
	for i := range out {
		out[i] = i
	}
	slices.SortStableFunc(out, func(a, b int) int { return cmp.Compare(weights[b], weights[a]) })
	return out
}
