package faulttree

import (
	"math/rand/v2"
	"slices"

	"faultwright/faulttree/order"
)

// Bounds on the exact order of asking: how many columns, and how many
// combinations of what they can show are looked at for every set of columns.
// Beyond them, what tells most for its cost is asked next, by combinations drawn
// from each row.
const (
	mostExactColumns = 8
	mostExactLooks   = 25_000_000
	drawnOfRow       = 60
)

// plan is in which order a chart asks.
type plan struct {
	exact   bool
	problem order.Problem
	tree    *order.Plan // nil where nothing is to be asked, or no plan was found
}

func newPlan(t *table) *plan {
	p := &plan{}
	cost := t.step.Chart.Cost
	if cost == (Weights{}) {
		cost = DefaultWeights()
	}
	for c, v := range t.step.Measure {
		p.problem.Questions = append(p.problem.Questions, order.Question{
			Cost: float64(cost.Of(v.Quantity) + max(0, v.Quantity.Effort-1)), After: order.SetOf(t.step.Chart.gated(c)...),
		})
		p.problem.Columns = append(p.problem.Columns, order.Column{Needs: order.SetOf(c)})
	}
	for _, d := range t.step.Derive {
		var needs order.Set
		for _, term := range d.Terms {
			needs |= order.SetOf(term.Var)
		}
		p.problem.Columns = append(p.problem.Columns, order.Column{Needs: needs})
	}
	if t.measure > order.MostQuestions {
		return p
	}
	var cases []order.Case
	if t.measure <= mostExactColumns {
		cases, p.exact = t.combinations()
	}
	if !p.exact {
		cases = t.drawn()
	}
	count := map[int]float64{}
	for _, c := range cases {
		count[c.Result]++
	}
	for i := range cases {
		cases[i].Weight = 1 / count[cases[i].Result]
	}
	if p.problem.Cases = cases; len(cases) == 0 {
		return p
	}
	if p.exact {
		p.tree, _ = p.problem.Best()
	} else {
		p.tree, _ = p.problem.Greedy()
	}
	return p
}

// combinations lists every combination of segments that each sum by itself
// allows, with the row that takes it; false if there are too many.
func (t *table) combinations() (cases []order.Case, all bool) {
	shows := make([]uint8, len(t.cuts))
	b := t.all()
	tried, most := 0, mostExactLooks/(t.measure<<t.measure+1)
	var fill func(c int) bool
	fill = func(c int) bool {
		if c == len(t.cuts) {
			if tried++; tried > 20*most {
				return false
			}
			if row := t.first(b.masks); row >= 0 && t.feasible(b) {
				cases = append(cases, order.Case{Shows: slices.Clone(shows), Result: t.leads[row]})
			}
			return len(cases) <= most
		}
		for k := range notTaken + 1 {
			if t.full[c]>>k&1 == 0 {
				continue
			}
			b.masks[c], shows[c] = 1<<k, uint8(k)
			if !fill(c + 1) {
				return false
			}
		}
		b.masks[c] = t.full[c]
		return true
	}
	all = fill(0)
	return cases, all
}

// first is the first row that takes a combination of single segments, -1 if
// none.
func (t *table) first(masks []uint64) int {
	return slices.IndexFunc(t.fits, func(fits []uint64) bool {
		for c, m := range masks {
			if m&fits[c] == 0 {
				return false
			}
		}
		return true
	})
}

// drawn is combinations drawn from each row, the same ones every time.
func (t *table) drawn() []order.Case {
	random := rand.New(rand.NewPCG(10, 31))
	var cases []order.Case
	seen := map[string]bool{}
	for row, fits := range t.fits {
		for range drawnOfRow {
			b := t.all()
			for c := range fits {
				b.masks[c] = drawSegment(random, fits[c])
			}
			for i, d := range t.step.Derive { // sums show what their parts can make
				var parts []Span
				for c := range t.measure {
					hull, _ := t.hull(c, b.masks[c])
					parts = append(parts, hull)
				}
				if mask := t.mask(t.measure+i, []Span{d.Span(parts)}) & fits[t.measure+i]; mask != 0 {
					b.masks[t.measure+i] = drawSegment(random, mask)
				}
			}
			if t.first(b.masks) != row || !t.feasible(b) {
				continue
			}
			shows := make([]uint8, len(b.masks))
			for c, m := range b.masks {
				for k := range notTaken + 1 {
					if m>>k&1 == 1 {
						shows[c] = uint8(k)
					}
				}
			}
			if !seen[string(shows)] {
				seen[string(shows)] = true
				cases = append(cases, order.Case{Shows: shows, Result: t.leads[row]})
			}
		}
	}
	return cases
}

// drawSegment is one segment of a mask.
func drawSegment(random *rand.Rand, mask uint64) uint64 {
	var all []uint64
	for k := range notTaken + 1 {
		if mask>>k&1 == 1 {
			all = append(all, 1<<k)
		}
	}
	return all[random.IntN(len(all))]
}

// next is the column to ask where the row is open: by the plan, past what is
// known, and where that does not tell, the first column that may be asked. It
// is one that could not be taken where the plan wants it; -1 where nothing is
// left.
func (t *table) next(k knowledge) int {
	for p := t.plan().tree; p != nil && p.Ask >= 0; {
		if r := k.readings[p.Ask]; r == nil || r.Quality == NotPossible && k.masks[p.Ask] != 1<<notTaken {
			return p.Ask
		}
		var then *order.Plan
		for _, branch := range p.Then {
			if !slices.ContainsFunc(branch.Shows, func(s order.Shown) bool { return k.masks[s.Column]>>s.Value&1 == 0 }) {
				then = branch.Plan
			}
		}
		p = then
	}
	free := -1
	for c, r := range k.readings {
		open := !slices.ContainsFunc(t.step.Chart.gated(c), func(g int) bool { return k.readings[g] == nil })
		if r == nil && open && free < 0 {
			free = c
		}
	}
	return free
}
