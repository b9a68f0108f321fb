package class

import (
	"fmt"
	"time"

	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
)

// done is what a learner did and when. Two people never do the same to the same
// nanosecond.
type done struct {
	task             int
	kind             practice.Kind
	red, black, name string
	on               bool
	setting          meter.Setting
	at               time.Duration
}

// fewestShared is how many acts must have been done at the same times before that
// is pointed out: fewer may be chance where a clock is coarse.
const fewestShared = 3

// pointOutCopies says of every attempt whether somebody else's has the same acts at
// the same times, at least half of them, or is at somebody else's vehicle. Who
// copied whom is not known.
func (c *Class) pointOutCopies() {
	by := map[done][]int{} // learners
	for i, l := range c.Learners {
		for task, t := range l.Tries {
			for _, d := range doneIn(task, t) {
				by[d] = append(by[d], i)
			}
		}
	}
	for i, l := range c.Learners {
		for task, t := range l.Tries {
			if t != nil {
				c.pointOut(i, task, t, by)
			}
		}
	}
}

// pointOut says whose attempts one has in common.
func (c *Class) pointOut(learner, task int, t *Checked, by map[done][]int) {
	shared := make([]int, len(c.Learners))
	for _, d := range doneIn(task, t) {
		for _, other := range by[d] {
			shared[other]++
		}
	}
	for i, other := range c.Learners {
		if i == learner || other.Tries[task] == nil {
			continue
		}
		if n := shared[i]; n >= fewestShared && 2*n >= min(len(t.Attempt.Acts), len(other.Tries[task].Attempt.Acts)) {
			t.sameActs = append(t.sameActs, other)
			t.Copied = append(t.Copied, fmt.Sprintf("%d of its %d acts were done at the very same times as those of %s.", n, len(t.Attempt.Acts), other.Name))
		}
		if c.Assignment.Tasks[task].Own && !c.Assignment.given(task, c.Learners[learner].Name, t.Attempt.Seed) && c.Assignment.given(task, other.Name, t.Attempt.Seed) {
			t.foreign = append(t.foreign, fmt.Sprintf("Its vehicle is the one that %s was given.", other.Name))
		}
	}
	t.Copied = append(t.Copied, t.foreign...)
}

// doneIn lists what was done in an attempt at a known time, each once.
func doneIn(task int, t *Checked) []done {
	if t == nil {
		return nil
	}
	var out []done
	seen := map[done]bool{}
	for _, a := range t.Attempt.Acts {
		d := done{task, a.Kind, a.Red, a.Black, a.Name, a.On, a.Setting, a.At}
		if a.At > 0 && !seen[d] {
			seen[d] = true
			out = append(out, d)
		}
	}
	return out
}
