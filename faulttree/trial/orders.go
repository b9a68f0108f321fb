package trial

import (
	"cmp"
	"context"
	"errors"
	"slices"
	"sync"
	"sync/atomic"

	"faultwright/faulttree"
	"faultwright/faulttree/asking"
	"faultwright/faulttree/lists"
)

// Order compares what the walks of a tree cost with the best order that was
// found for the same readings.
type Order struct {
	Role     string  `json:"role"`
	Until    string  `json:"until"`    // finding: the very finding that the tree ends in; task: a finding of the same signal after which the same is to be done
	Vehicles string  `json:"vehicles"` // faulted, sound, all
	Walks    int     `json:"walks"`    // of vehicles that the order was not grown from
	Tree     float64 `json:"tree"`     // cost of the tree's own order, in the mean of these walks
	Best     float64 `json:"best"`
	Readings float64 `json:"readings"` // of the best order, the proofs among them
	Live     float64 `json:"live"`     // live contacts of it
	Agrees   float64 `json:"agrees"`   // share of the walks in which it comes to the same
	Own      bool    `json:"own"`      // nothing better than the tree's own order was found
	// Spared is the quantities that the tree takes oftener than the best order,
	// what that costs most first.
	Spared []Spared `json:"spared,omitempty"`
	// Lost is the steps at which the tree takes what the best order does not take
	// of the same vehicle, what that costs most first.
	Lost []Lost `json:"lost,omitempty"`
}

// Lost is what a step of a tree costs that the best order found does without.
type Lost struct {
	Step       string   `json:"step"` // tree#step
	Title      string   `json:"title"`
	Quantities []string `json:"quantities"` // what it takes, what is spared most first
	Walks      float64  `json:"walks"`      // share of the walks in which something of it is spared
	Cost       float64  `json:"cost"`       // in the mean of a walk
}

// Spared is a quantity that a tree takes oftener than the best order found.
type Spared struct {
	Quantity string  `json:"quantity"`
	Tree     float64 `json:"tree"` // how often, in the mean of a walk
	Best     float64 `json:"best"`
}

// Ratio is the tree's cost in units of the best order's.
func (o Order) Ratio() float64 {
	if o.Best == 0 {
		return 1
	}
	return o.Tree / o.Best
}

// What the search for orders is given.
const (
	grownFrom = 12000 // vehicles that orders are grown from
	chosenBy  = 4000  // others by which the cheapest is chosen; it is measured on others again
	endKnown  = 0.99  // share of the vehicles left from which on their end counts as known
)

// eagers are the greedy ways that are tried, see [asking.Sample.Grow].
var eagers = []float64{0.5, 1, 1.5}

// findOrders looks for the cheapest order of asking that comes to where the tree
// comes, and compares what the two cost.
//
// An order may ask what walks of the role ask, and knows facts and what is seen
// without a meter. It tells readings apart by the tree's own limits, no others. It
// keeps the tree's gates: what every walk of the trial that takes a reading took
// before it, of proofs of the meter, of volts before ohms on a pulled plug, of the
// spike before the body, and before other live contacts of what has a danger
// limit, such as metal that is touched on the way; no live contact while a dead
// test still tells something, where the walks keep that; after a reading that may
// hurt only what may be asked after a STOP, of an owner nothing live; the proof of
// the meter again before an all-clear whose walks do so.
//
// It goes on until all but one in a hundred of the vehicles left have the same
// end, or nothing tells more. It is grown from some vehicles, the cheapest of
// several ways is chosen by others, and it is measured on vehicles that neither
// saw. There, one that it takes for another is charged what the tree took for it
// besides: what it did not find out would have to be found out otherwise, so that
// nothing is won by what was learned from chance. Where that is no cheaper the
// tree's own order is the best. A cleverer search may find a cheaper one: the
// ratio errs on the tree's side.
func (t *trial) findOrders(ctx context.Context, n *tally, r *Report) error {
	for role := range roles {
		for _, until := range []string{"finding", "task"} {
			orders, err := t.ordersFor(ctx, n, roles[role], until, false)
			if err != nil {
				return err
			}
			r.Orders = append(r.Orders, orders...)
		}
	}
	return nil
}

// ordersFor is the comparison for one role. Ahead also tries an order that looks
// ahead, which takes long, and tells where the tree loses.
func (t *trial) ordersFor(ctx context.Context, n *tally, role faulttree.Role, until string, ahead bool) ([]Order, error) {
	s := t.sampleFor(n, role, until)
	var grow, choose, held []int
	for i := range t.data.heldOutFrom { // in the order of the draws, which is that of the faults
		if i%4 == 3 {
			choose = append(choose, i)
		} else {
			grow = append(grow, i)
		}
	}
	for i := t.data.heldOutFrom; i < len(s.Cases); i++ {
		held = append(held, i)
	}
	if len(grow) == 0 || len(choose) == 0 || len(held) == 0 {
		return nil, nil
	}
	plans := make([]*asking.Plan, len(eagers), len(eagers)+1)
	if ahead {
		plans = append(plans, nil)
	}
	if err := t.inParallel(ctx, len(plans), func(i int) (err error) {
		if i == len(eagers) {
			plans[i], err = s.GrowAhead(ctx, grow)
		} else {
			plans[i], err = s.Grow(ctx, grow, eagers[i])
		}
		return err
	}); err != nil {
		return nil, err
	}
	var best *asking.Plan
	least := otherwise(s, choose)
	for _, p := range plans {
		if cost := s.Mean(p, choose); cost < least {
			best, least = p, cost
		}
	}
	if best != nil && s.Mean(best, held) > otherwise(s, held) {
		best = nil
	}
	var out []Order
	for _, vehicles := range []string{faulted.String(), sound.String(), "all"} {
		some := lists.Where(held, func(i int) bool { return vehicles == "all" || (vehicles == sound.String()) == (t.data.groups[i] == 0) })
		o := t.measured(s, best, role, some, Order{Role: role.String(), Until: until, Vehicles: vehicles, Own: best == nil})
		if ahead && best != nil {
			o.Lost = t.lost(s, best, role, some)
		}
		out = append(out, o)
	}
	return out, nil
}

// otherwise is what the tree takes, in the mean of some cases.
func otherwise(s *sample, cases []int) float64 {
	sum := lists.Sum(cases, func(i int) float64 { return s.Cases[i].Otherwise })
	return mean(sum, len(cases))
}

// measured fills in what a plan, nil for the tree's own order, costs in some
// cases.
func (t *trial) measured(s *sample, p *asking.Plan, role faulttree.Role, cases []int, o Order) Order {
	o.Walks, o.Tree = len(cases), otherwise(s, cases)
	if p == nil {
		o.Best, o.Agrees = o.Tree, 1
		return o
	}
	readings, live, right := 0, 0, 0
	worst := t.data.worst[role]
	byTree, byBest := make([]int, len(t.data.quantities)), make([]int, len(t.data.quantities))
	proof := t.data.proof()
	for _, i := range cases {
		out := s.Walk(p, s.Cases[i])
		readings += len(out.Asked)
		for _, q := range out.Asked {
			asked := s.asks[q]
			if asked == len(t.data.quantities) {
				asked = proof
			}
			byBest[asked]++
			if touchesLive(t.data.quantities[asked]) {
				live++
			}
		}
		for _, a := range worst[i].asked {
			byTree[a.quantity]++
		}
		if out.Result == s.Cases[i].Result {
			right++
		}
	}
	o.Best = s.Mean(p, cases)
	o.Readings, o.Live, o.Agrees = mean(float64(readings), len(cases)), mean(float64(live), len(cases)), mean(float64(right), len(cases))
	o.Spared = t.spared(byTree, byBest, len(cases))
	return o
}

// leastSpared is the share of the walks from which on a quantity is told that
// the tree takes oftener.
const leastSpared = 0.05

// spared lists what the tree takes oftener than the best order, by how often each
// takes the quantities in so many walks.
func (t *trial) spared(byTree, byBest []int, walks int) []Spared {
	var out []Spared
	price := map[string]float64{}
	for i, q := range t.data.quantities {
		x := Spared{q.ID, mean(float64(byTree[i]), walks), mean(float64(byBest[i]), walks)}
		if price[q.ID] = (x.Tree - x.Best) * float64(t.weights().Of(q)); x.Tree-x.Best >= leastSpared {
			out = append(out, x)
		}
	}
	slices.SortFunc(out, func(a, b Spared) int {
		return cmp.Or(cmp.Compare(price[b.Quantity], price[a.Quantity]), cmp.Compare(a.Quantity, b.Quantity))
	})
	return out
}

// inParallel does pieces of work by the trial's workers, until the context ends.
func (t *trial) inParallel(ctx context.Context, pieces int, do func(int) error) error {
	errs := make([]error, pieces)
	var next atomic.Int64
	var wait sync.WaitGroup
	for range min(pieces, t.options.Workers) {
		wait.Go(func() {
			for i := int(next.Add(1)) - 1; i < pieces && ctx.Err() == nil; i = int(next.Add(1)) - 1 {
				errs[i] = do(i)
			}
		})
	}
	wait.Wait()
	if ctx.Err() != nil {
		return ctx.Err()
	}
	return errors.Join(errs...)
}
