package class

import (
	"slices"
	"time"

	"faultwright/content"
	"faultwright/faulttree/practice"
)

// Belongs reports whether an attempt on record is one of this learner at a task.
// Where all learners have the same vehicle, nothing on record tells them apart.
func (a *Assignment) Belongs(try practice.Attempt, learner string) (task int, ok bool) {
	task, ok = a.Task(try.Case)
	return task, ok && a.given(task, learner, try.Seed) && try.Level == a.Level && try.Role == a.Role && try.Supervised == a.Supervised
}

// HandIn is the file of a learner, of attempts in any order. At each task the first
// that has a conclusion counts, after which the answer may have been seen; without
// one, the newest. Missing lists the tasks without a conclusion.
func (a *Assignment) HandIn(lib *content.Library, learner string, tries []practice.Attempt, saved time.Time) (f AttemptFile, missing []int) {
	f = AttemptFile{Learner: plain(learner), Assignment: a.ID, Handbook: lib.Fingerprint(), Saved: saved}
	tries = slices.Clone(tries)
	slices.SortStableFunc(tries, func(x, y practice.Attempt) int {
		switch {
		case x.Ended() && y.Ended():
			return x.Started.Compare(y.Started)
		case x.Ended():
			return -1
		case y.Ended():
			return 1
		}
		return y.Started.Compare(x.Started)
	})
	for task := range a.Tasks {
		i := slices.IndexFunc(tries, func(try practice.Attempt) bool {
			of, ok := a.Belongs(try, learner)
			return ok && of == task
		})
		if i >= 0 {
			f.Attempts = append(f.Attempts, tries[i])
		}
		if i < 0 || !tries[i].Ended() {
			missing = append(missing, task)
		}
	}
	return f, missing
}
