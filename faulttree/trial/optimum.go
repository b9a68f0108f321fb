package trial

import (
	"cmp"
	"context"
	"errors"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/asking"
)

// Optimum is what a tree costs beside the best order of asking that can be found
// for the same readings under the same gates, and where it loses most.
type Optimum struct {
	Tree   string  `json:"tree"`
	Rigs   int     `json:"rigs"`
	Seed   uint64  `json:"seed"`
	Orders []Order `json:"orders"` // for each role, to the finding and to what is to be done: of faulted, of sound, of all vehicles
}

// FindOptimum looks for the best order as a trial does, and besides by looking
// ahead at every question. It takes no wrong readings.
func FindOptimum(ctx context.Context, h Handbook, tree string, o Options) (*Optimum, error) {
	if o.Wrong != 0 {
		return nil, errors.New("the best order is found from readings that are right")
	}
	t, err := prepare(h, tree, o)
	if err != nil {
		return nil, err
	}
	t.data = t.newDataset(learnedFrom, heldOut)
	sum, err := t.walkAll(ctx)
	if err != nil {
		return nil, err
	}
	out := &Optimum{Tree: tree, Rigs: o.Rigs, Seed: o.Seed, Orders: []Order{}}
	for role := range roles {
		for _, until := range []string{"finding", "task"} {
			orders, err := t.ordersFor(ctx, sum, roles[role], until, true)
			if err != nil {
				return nil, err
			}
			out.Orders = append(out.Orders, orders...)
		}
	}
	return out, nil
}

// countReadings fills in how many readings an owner takes in the mean to the
// finding that the tree ends in, bound to no gates, each time asked for what looking
// ahead leads there with the fewest; and how many at least answer as many bits.
func (t *trial) countReadings(ctx context.Context, n *tally, r *Report) error {
	s := t.sampleFor(n, faulttree.Owner, "finding")
	for i := range s.Questions {
		s.Questions[i] = asking.Question{Cost: 1}
	}
	s.Last = nil
	for i, end := range t.data.worst[faulttree.Owner] {
		s.Cases[i].Otherwise = float64(len(end.asked))
	}
	var grow, held []int
	each := (t.data.heldOutFrom + mostCounted - 1) / mostCounted
	for i := range s.Cases {
		if i >= t.data.heldOutFrom {
			held = append(held, i)
		} else if i%each == 0 {
			grow = append(grow, i)
		}
	}
	if len(grow) == 0 || len(held) == 0 {
		return nil
	}
	p, err := s.GrowAhead(ctx, grow)
	if err != nil {
		return err
	}
	r.OptimumMeasurements = s.Mean(p, held)
	r.EntropyBound = s.Bits(held) / math.Log2(float64(t.outcomes()))
	return nil
}

// mostCounted is how many vehicles the order with the fewest readings is found from.
const mostCounted = 3000

// leastLost is the cost in the mean of a walk from which on a step is told.
const leastLost = 0.01

// lost is what the walks of some cases took at each step that a plan does not take
// of the same vehicle. A quantity that the plan takes, only later, is not lost.
func (t *trial) lost(s *sample, p *asking.Plan, role faulttree.Role, cases []int) []Lost {
	type tallied struct{ walks, cost int }
	steps := make([]tallied, len(t.data.steps))
	spared := make([]map[string]int, len(t.data.steps))
	proof := t.data.proof()
	for _, i := range cases {
		left := make([]int, len(t.data.quantities)) // how often the plan takes each
		for _, q := range s.Walk(p, s.Cases[i]).Asked {
			if asked := s.asks[q]; asked < len(left) {
				left[asked]++
			} else {
				left[proof]++
			}
		}
		met := map[uint16]bool{}
		for _, a := range t.data.worst[role][i].asked {
			if left[a.quantity] > 0 {
				left[a.quantity]--
				continue
			}
			if a.step == unlisted {
				continue
			}
			q := t.data.quantities[a.quantity]
			at := &steps[a.step]
			at.cost += t.weights().Of(q)
			if !met[a.step] {
				met[a.step] = true
				at.walks++
			}
			if spared[a.step] == nil {
				spared[a.step] = map[string]int{}
			}
			spared[a.step][q.ID] += t.weights().Of(q)
		}
	}
	var out []Lost
	for k, at := range steps {
		x := Lost{Step: t.data.steps[k].Ref().String(), Title: t.data.steps[k].Title, Walks: mean(float64(at.walks), len(cases)), Cost: mean(float64(at.cost), len(cases))}
		if x.Cost < leastLost {
			continue
		}
		for id := range spared[k] {
			x.Quantities = append(x.Quantities, id)
		}
		slices.SortFunc(x.Quantities, func(a, b string) int {
			return cmp.Or(cmp.Compare(spared[k][b], spared[k][a]), cmp.Compare(a, b))
		})
		out = append(out, x)
	}
	slices.SortStableFunc(out, func(a, b Lost) int { return cmp.Compare(b.Cost, a.Cost) })
	return out
}

// outcomes is the most ways on that the tree has after one reading: no reading
// answers more than the binary logarithm of it in bits.
func (t *trial) outcomes() int {
	most := 2
	for _, s := range t.plan.tree.Steps {
		if !s.Reads() {
			continue
		}
		most = max(most, len(s.Exits()))
	}
	return most
}
