package class

import (
	"context"
	"fmt"

	"faultwright/faulttree"
)

// Bounds on what is marked of files from outside: what a reading tells is worked out
// over thousands of drawn vehicles, and for every kind of meter anew.
const (
	mostMarkedActs = 300
	mostMeters     = 3
)

// Mark marks all attempts that verify. Tell, which may be nil, is called after each. An
// attempt that cannot be marked says so; the error is that of ctx.
func (c *Class) Mark(ctx context.Context, by Marker, tell func(done, total int)) error {
	var of []*Checked
	var all []Try
	meters := map[faulttree.Meter]bool{}
	for task, s := range c.Scenarios {
		for _, l := range c.Learners {
			x := l.Tries[task]
			if x == nil || x.Edited != "" {
				continue
			}
			meter := x.Attempt.Meter.Nameless()
			if len(meters) < mostMeters {
				meters[meter] = true
			}
			switch n := len(x.Attempt.Acts); {
			case n > mostMarkedActs:
				x.Unmarked = fmt.Sprintf("It has %d acts; at most %d are marked.", n, mostMarkedActs)
				continue
			case !meters[meter]:
				x.Unmarked = fmt.Sprintf("Its meter is of a kind of its own; attempts with at most %d kinds are marked.", mostMeters)
				continue
			}
			of, all = append(of, x), append(all, Try{s, x.Case, x.Attempt})
		}
	}
	marked := 0
	return by.Mark(ctx, all, func(i int, m *Marks, err error) {
		if of[i].Marks = m; err != nil {
			of[i].Unmarked = fmt.Sprintf("It is not marked: %v.", err)
		}
		if marked++; tell != nil {
			tell(marked, len(all))
		}
	})
}
