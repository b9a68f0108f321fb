package trial

import "slices"

// errands numbers what drawn vehicles need done: all tasks that some vehicle of the
// plan needs.
type errands struct {
	tasks []task
	sets  []faultGroup  // those that are needed together: indices into tasks
	needs map[wrong]int // an index into sets and one more; 0 is nothing
}

// newErrands lists them in the order of the plan.
func (t *trial) newErrands() *errands {
	e := &errands{needs: map[wrong]int{}}
	for _, s := range t.plan.strata {
		if s.fault < 0 {
			continue
		}
		w := t.wrongOf(s)
		var set faultGroup
		for _, k := range t.tasksOf(w) {
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
		e.needs[w] = at + 1
	}
	return e
}
