package trial

import "slices"

// errands numbers what drawn vehicles need done, for a classifier that is to tell
// that and not the fault: all tasks that some vehicle of the plan needs.
type errands struct {
	tasks []task
	sets  []faultGroup       // those that are needed together: indices into tasks
	needs map[errandCell]int // by what is wrong and where, an index into sets and one more
}

type errandCell struct {
	group int
	place string
}

// newErrands lists them in the order of the plan.
func (t *trial) newErrands() *errands {
	e := &errands{needs: map[errandCell]int{}}
	for _, s := range t.plan.strata {
		if s.fault < 0 {
			continue
		}
		place := t.plan.faults[s.fault].Variants[s.variant].Place
		var set faultGroup
		for _, k := range t.tasksOf(wrong{s.group, place}) {
			at := slices.Index(e.tasks, k)
			if at < 0 {
				at, e.tasks = len(e.tasks), append(e.tasks, k)
			}
			if !slices.Contains(set, at) {
				set = append(set, at)
			}
		}
		at := slices.IndexFunc(e.sets, func(o faultGroup) bool { return slices.Equal(o, set) })
		if at < 0 {
			at, e.sets = len(e.sets), append(e.sets, set)
		}
		e.needs[errandCell{s.group, string(place)}] = at + 1
	}
	return e
}

// relabelled is some observations with what is to be done in place of what is
// wrong.
func (e *errands) relabelled(some []observation) []observation {
	out := slices.Clone(some)
	for i := range out {
		if out[i].group > 0 {
			out[i].group = e.needs[errandCell{out[i].group, string(out[i].place)}]
		}
	}
	return out
}
