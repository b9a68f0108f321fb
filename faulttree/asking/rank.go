package asking

import (
	"cmp"
	"context"
	"math"
	"slices"
)

// What looking ahead may take, counted in cases looked at once for one question:
// this many take about a tenth of a second.
const (
	mostWork   = 2_500_000
	fewestKept = 8 // questions that are followed up however much work it is
)

// leastTold is how many bits a question tells that tells anything; less is rounding.
const leastTold = 1e-9

// Rank lists the questions worth asking next, the best first: by how many bits
// about the result are told for their cost by a question and those that follow,
// each time the one that then tells most for its cost. That way one looks two
// questions ahead, and further, up to the end, while it is little work. Of several
// that begin with the same question the best is listed. A question that neither
// tells anything nor makes the next one tell more is not among them, nor one that
// the gates forbid. An error is that of ctx, or of [Lookahead.Check].
func (l *Lookahead) Rank(ctx context.Context) ([]Candidate, error) {
	if err := l.Check(); err != nil {
		return nil, err
	}
	k := newLook(l)
	first := k.first()
	if k.known(first) {
		return nil, nil
	}
	runs := k.begin(first)
	for depth := 2; len(runs) > 0; depth++ {
		if l.Depth > 0 && depth > l.Depth || l.Depth == 0 && depth > 2 && k.work+k.ahead(runs) > mostWork {
			break
		}
		further := false
		for _, r := range runs {
			if ctx.Err() != nil {
				return nil, ctx.Err()
			}
			further = k.follow(r) || further
		}
		if depth == 2 {
			runs = k.telling(runs)
		}
		if !further {
			break
		}
	}
	if l.Depth == 1 {
		runs = k.telling(runs)
	}
	return k.ranked(runs), ctx.Err()
}

// run is a question, what must come before it, and what follows, as far as one has
// looked.
type run struct {
	choice
	told, spent float64 // with what follows
	reach       int     // the highest rank of what was asked
	front       []*state
}

// begin starts a run with each question that may be asked at the first state: all
// of them, or where following them all up is too much work those that tell most
// for their cost.
func (k *look) begin(first *state) []*run {
	open := k.choices(first)
	slices.SortStableFunc(open, func(a, b choice) int { return cmp.Compare(b.worth(), a.worth()) })
	each := max(1, len(k.l.Questions)*len(first.cases))
	open = open[:min(len(open), max(fewestKept, mostWork/each))]
	var runs []*run
	for _, c := range open {
		runs = append(runs, &run{choice: c, told: c.bits, spent: c.price, reach: c.rank, front: k.ask(first, c)})
	}
	return runs
}

// ahead is about how much work following all runs by one more question is.
func (k *look) ahead(runs []*run) int {
	cases := 0
	for _, r := range runs {
		for _, s := range r.front {
			cases += len(s.cases)
		}
	}
	return cases * len(k.l.Questions)
}

// follow asks one more question wherever a run stands; it reports whether there
// was any.
func (k *look) follow(r *run) bool {
	var front []*state
	for _, s := range r.front {
		if k.known(s) {
			continue
		}
		if next, ok := k.best(s); ok {
			r.told += next.bits
			r.spent += next.price
			r.reach = max(r.reach, next.rank)
			front = append(front, k.ask(s, next)...)
		}
	}
	r.front = front
	return len(front) > 0
}

// telling is, of runs followed by at most one question, those whose own tells
// something by itself, or makes the one after it tell more than any of up to its
// rank does alone; in few draws that is chance. They are those of the lowest rank
// that has any.
func (k *look) telling(runs []*run) []*run {
	tells := func(r *run) bool {
		alone := 0.0
		for _, o := range runs {
			if o.rank <= r.reach {
				alone = max(alone, o.bits)
			}
		}
		return r.bits > k.least || k.l.Draws == 0 && r.told > alone+k.least
	}
	var out []*run
	for _, r := range runs {
		switch {
		case len(out) > 0 && r.rank > out[0].rank, !tells(r):
		case len(out) > 0 && r.rank == out[0].rank:
			out = append(out, r)
		default:
			out = []*run{r}
		}
	}
	return out
}

// ranked is the runs as candidates, the best first.
func (k *look) ranked(runs []*run) []Candidate {
	// what differs by less is a matter of rounding
	worth := func(bits, cost float64) float64 { return math.Round(bits/cost*1e9) / 1e9 }
	var out []Candidate
	for _, r := range runs {
		out = append(out, Candidate{
			Ask: r.asks[0], For: r.asks[len(r.asks)-1],
			Bits: r.bits / k.whole, Cost: r.price / k.whole, BitsAhead: r.told / k.whole, CostAhead: r.spent / k.whole,
		})
	}
	slices.SortFunc(out, func(a, b Candidate) int {
		return cmp.Or(
			cmp.Compare(worth(b.BitsAhead, b.CostAhead), worth(a.BitsAhead, a.CostAhead)),
			cmp.Compare(worth(b.Bits, b.Cost), worth(a.Bits, a.Cost)),
			cmp.Compare(a.Ask, b.Ask), cmp.Compare(a.For, b.For))
	})
	asked := map[int]bool{}
	return slices.DeleteFunc(out, func(c Candidate) bool {
		again := asked[c.Ask]
		asked[c.Ask] = true
		return again
	})
}
