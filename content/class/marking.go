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

// Mark marks all attempts that verify, one scenario after another, which is what
// takes time. Tell, which may be nil, is called after each. An attempt that cannot be
// marked says so; the error is that of ctx.
func (c *Class) Mark(ctx context.Context, by Marker, tell func(done, total int)) error {
	var all []func()
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
			all = append(all, func() {
				marks, err := by.Mark(ctx, s, x.Case, x.Attempt)
				if x.Marks = marks; err != nil {
					x.Unmarked = fmt.Sprintf("It is not marked: %v.", err)
				}
			})
		}
	}
	for i, mark := range all {
		if ctx.Err() != nil {
			return ctx.Err()
		}
		mark()
		if tell != nil {
			tell(i+1, len(all))
		}
	}
	return ctx.Err()
}
