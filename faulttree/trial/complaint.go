package trial

import (
	"context"

	"faultwright/faulttree/vehicle"
)

// Complaint is what a trial found over the vehicles with a fault in the scope, or
// sound, that have what brings a reader to the tree ([faulttree.Tree.Concerns]).
// Figures that [Report] has too mean the same. An all-clear is not judged by
// these vehicles alone, for readers come with others.
type Complaint struct {
	Share float64 `json:"share"` // of the vehicles drawn for it within the scope
	Rigs  int     `json:"rigs"`  // vehicles that have it, those drawn besides to have enough included

	Earned
	Taken  []Taken  `json:"taken"`
	Missed []Missed `json:"missed"`
}

// mostRounds is how often all vehicles are drawn anew, where few have the
// complaint, to have as many that have it as the trial has vehicles.
const mostRounds = 20

// withComplaint tries the tree with vehicles that have its complaint; nil where
// it has none.
func (t *trial) withComplaint(ctx context.Context) (*Complaint, error) {
	if len(t.plan.tree.Complaint) == 0 {
		return nil, nil
	}
	var have []int
	drawn := 0
	for round := 0; round < mostRounds && len(have) < t.options.Rigs; round++ {
		more, err := t.complaining(ctx, round*t.plan.total)
		if err != nil {
			return nil, err
		}
		have, drawn = append(have, more...), drawn+t.plan.inside
	}
	c := &Complaint{Share: mean(float64(len(have)), drawn), Rigs: len(have), Taken: []Taken{}, Missed: []Missed{}}
	if len(have) == 0 {
		return c, nil
	}
	some := *t
	some.plan, some.options.Progress = t.plan.pick(have), nil
	some.data = some.newDataset(0, 0)
	sum, err := some.walkAll(ctx)
	if err != nil {
		return nil, err
	}
	r, err := some.report(sum)
	if err != nil {
		return nil, err
	}
	if err := some.compareWithBelief(ctx, sum, r); err != nil {
		return nil, err
	}
	c.Earned, c.Taken, c.Missed = r.Earned, r.Taken, r.Missed
	return c, nil
}

// complaining lists the draws within the scope that have the complaint, of those
// whose numbers begin at from.
func (t *trial) complaining(ctx context.Context, from int) ([]int, error) {
	quiet := *t
	quiet.options.Progress = nil
	has := make([]bool, t.plan.inside)
	err := quiet.eachDraw(ctx, t.plan.inside, func(_ int, w *worker, s stratum, number int) error {
		k, err := w.before(s, from+number)
		if err != nil {
			return err
		}
		has[number], err = vehicle.Walker{Value: k.vehicle.Taken, Vehicle: k.vehicle}.Concerns(w.plan.tree)
		return err
	})
	var out []int
	for number, is := range has {
		if is {
			out = append(out, from+number)
		}
	}
	return out, err
}
