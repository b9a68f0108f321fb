package trial

import (
	"cmp"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// task is what is to be done about a fault: where, and by whom. Faults that the
// same person repairs in the same place are one task for the reader.
type task struct {
	place faulttree.Place
	by    string // the first clause of what the fault's document says for the place; "" where it says nothing
}

func (k task) String() string {
	if k.by == "" {
		return string(k.place)
	}
	return string(k.place) + ", " + k.by
}

// taskKey tells tasks apart: by place and repairer, or by place alone.
type taskKey func(task) task

func placeAlone(k task) task { return task{place: k.place} }
func whole(k task) task      { return k }

// tasks counts walks over faulted vehicles within the scope by what is wrong,
// where, and the finding they count as ended at.
type tasks map[taskCell]int

type taskCell struct {
	group   int // as in stratum
	place   faulttree.Place
	finding int
}

func (n tasks) add(o tasks) {
	for cell, walks := range o {
		n[cell] += walks
	}
}

// taskOf is what is to be done about a fault in a place.
func (t *trial) taskOf(fault int, place faulttree.Place) task {
	k := task{place: place}
	if t.repairedBy != nil {
		k.by, _, _ = strings.Cut(t.repairedBy(t.plan.faults[fault].ID, place), ";")
		k.by, _, _ = strings.Cut(k.by, ",")
		k.by = strings.TrimSpace(k.by)
	}
	return k
}

// tasksOf lists what is to be done about a vehicle, one for each fault: what
// comes along with a fault is repaired where it sits itself.
func (t *trial) tasksOf(w wrong) []task {
	var out []task
	for i, at := range t.faultsOf(w) {
		out = append(out, t.taskOf(t.plan.groups[w.group-1][i], at.Place))
	}
	return out
}

// isolationByTask is the mean credit over walks with a fault where a finding
// earns the share of the tasks it points at that the vehicle needs.
func (t *trial) isolationByTask(n tasks, key taskKey) float64 {
	pointed, most := make([][]task, len(t.endpoints)), 0
	for i := range t.endpoints {
		pointed[i] = t.pointedAt(n, i, key)
		most = max(most, len(pointed[i]))
	}
	earned := make([]int, most+1) // 1/k so many times, by k: whole numbers, so that the order does not matter
	all := 0
	for cell, walks := range n {
		all += walks
		if named := pointed[cell.finding]; len(named) > 0 {
			earned[len(named)] += walks * t.needed(cell, named, key)
		}
	}
	credit := 0.0
	for k, times := range earned {
		credit += float64(times) / float64(max(1, k))
	}
	return mean(credit, all)
}

// needed is how many of the tasks a vehicle needs.
func (t *trial) needed(cell taskCell, named []task, key taskKey) int {
	var own []task
	for _, k := range t.tasksOf(wrong{cell.group, cell.place}) {
		if k = key(k); slices.Contains(named, k) && !slices.Contains(own, k) {
			own = append(own, k)
		}
	}
	return len(own)
}

// enough is the share of the vehicles at a finding whose places it points at.
const enough = 0.9

// pointedAt lists the tasks that a finding points at: those of its faults in the
// place that it states. One that states none points at the fewest tasks that
// hold nine tenths of the vehicles which ended there with a fault it names.
func (t *trial) pointedAt(n tasks, finding int, key taskKey) []task {
	f := &t.endpoints[finding]
	walks := map[task]int{}
	all := 0
	for i, fault := range t.plan.faults {
		if stated := f.finding.Place; f.named[i] && stated != "" && slices.Contains(fault.Places(), stated) {
			walks[key(t.taskOf(i, stated))]++
		}
	}
	if f.finding.Place == "" {
		for cell, some := range n {
			if cell.finding != finding {
				continue
			}
			needed := t.tasksOf(wrong{cell.group, cell.place})
			for i, fault := range t.plan.groups[cell.group-1] {
				if f.named[fault] {
					walks[key(needed[i])] += some
					all += some
				}
			}
		}
	}
	var out []task
	for k := range walks {
		out = append(out, k)
	}
	slices.SortFunc(out, func(a, b task) int {
		return cmp.Or(cmp.Compare(walks[b], walks[a]), cmp.Compare(a.place, b.place), cmp.Compare(a.by, b.by))
	})
	if f.finding.Place != "" {
		return out
	}
	held := 0
	for i, k := range out {
		if held += walks[k]; float64(held) >= enough*float64(all) {
			return out[:i+1]
		}
	}
	return out
}
