package prove

import (
	"math/rand/v2"
	"slices"
	"testing"

	"faultwright/faulttree"
)

// randomSpace has 1 to 3 variables and 1 to 3 derived values of small whole
// factors.
func randomSpace(r *rand.Rand) space {
	sp := space{vars: 1 + r.IntN(3)}
	for range 1 + r.IntN(3) {
		row := make([]int64, sp.vars)
		for i := range row {
			row[i] = int64(r.IntN(5) - 2)
		}
		sp.factors = append(sp.factors, row)
	}
	return sp
}

// values are the variables of a point followed by its derived values.
func (sp space) values(point []faulttree.Amount) []faulttree.Amount {
	out := slices.Clone(point)
	for _, row := range sp.factors {
		sum := faulttree.Amount(0)
		for i, f := range row {
			sum += faulttree.Amount(f) * point[i]
		}
		out = append(out, sum)
	}
	return out
}

func (r region) contains(values []faulttree.Amount) bool {
	for i, s := range r {
		if !s.Contains(values[i]) {
			return false
		}
	}
	return true
}

// takers are the branches that hold a point.
func takers(branches []region, values []faulttree.Amount) (out []int) {
	for i, b := range branches {
		if b.contains(values) {
			out = append(out, i)
		}
	}
	return out
}

// cutSpace cuts the domain along variables and derived values into n regions.
func cutSpace(r *rand.Rand, domain region, n int) []region {
	branches := []region{slices.Clone(domain)}
	for tries := 0; len(branches) < n && tries < 10*n; tries++ {
		k, axis := r.IntN(len(branches)), r.IntN(len(domain))
		cut := faulttree.Amount(r.IntN(14) - 3)
		s := branches[k][axis]
		if cut <= s.From || cut >= s.Below {
			continue
		}
		other := slices.Clone(branches[k])
		branches[k][axis].Below, other[axis].From = cut, cut
		branches = append(branches, other)
	}
	return branches
}

func (sp space) anyDomain(r *rand.Rand) region {
	d := make(region, sp.vars+len(sp.factors))
	for i := range d {
		if d[i] = faulttree.Everything(); i < sp.vars && r.IntN(5) > 0 {
			d[i] = span(0, 0)
		}
	}
	return d
}

// TestDerivedAgainstGrid compares regions with derived values with a look at
// every point of a grid of the smallest steps that exist, where even the gap
// between two neighbouring amounts is seen.
func TestDerivedAgainstGrid(t *testing.T) {
	r := rand.New(rand.NewPCG(5, 9))
	unsure, spoiled, clean := 0, 0, 0
	for i := range 1500 {
		sp := randomSpace(r)
		domain := sp.anyDomain(r)
		branches := cutSpace(r, domain, 1+r.IntN(7))
		mutated := r.IntN(3) > 0
		if mutated {
			k, axis := r.IntN(len(branches)), r.IntN(len(domain))
			s := &branches[k][axis]
			switch r.IntN(4) {
			case 0:
				branches = slices.Delete(branches, k, k+1)
			case 1:
				branches = append(branches, slices.Clone(branches[k]))
			case 2:
				if s.From != faulttree.Lowest {
					s.From += faulttree.Amount(r.IntN(5) - 2)
				}
			case 3:
				if s.Below != faulttree.Highest {
					s.Below += faulttree.Amount(r.IntN(5) - 2)
				}
			}
			for k := range branches {
				branches[k] = branches[k].meet(domain)
			}
		}
		work := forestWork
		got := sp.comparePolytopes(domain, branches, &work)
		if !mutated && len(got.gaps)+len(got.overlaps) > 0 {
			t.Fatalf("space %d: false alarm %+v\n%v %v", i, got, sp, branches)
		}
		for _, g := range got.gaps {
			point, v := sp.find(g)
			if v != feasible || !domain.contains(sp.values(point)) || len(takers(branches, sp.values(point))) > 0 {
				t.Fatalf("space %d: %v is no gap, at %v\n%v %v", i, g, point, sp, branches)
			}
		}
		for _, o := range got.overlaps {
			point, v := sp.find(o.where)
			if in := takers(branches, sp.values(point)); v != feasible || !slices.Contains(in, o.first) || !slices.Contains(in, o.second) {
				t.Fatalf("space %d: %v is no overlap, at %v\n%v %v", i, o, point, sp, branches)
			}
		}
		if !got.complete {
			unsure++
			continue
		}
		gap, overlap := sp.grid(domain, branches)
		if gap && len(got.gaps) == 0 || overlap && len(got.overlaps) == 0 {
			t.Fatalf("space %d: the grid has gap %v overlap %v, found %+v\n%v %v", i, gap, overlap, got, sp, branches)
		}
		if len(got.gaps)+len(got.overlaps) > 0 {
			spoiled++
		} else {
			clean++
		}
	}
	t.Logf("%d spoiled, %d clean, %d undecided", spoiled, clean, unsure)
	if spoiled < 300 || clean < 300 || unsure > 30 {
		t.Errorf("one-sided or undecided: %d spoiled, %d clean, %d undecided", spoiled, clean, unsure)
	}
}

// grid looks at every point within a few steps of the bounds.
func (sp space) grid(domain region, branches []region) (gap, overlap bool) {
	point := make([]faulttree.Amount, sp.vars)
	var scan func(v int)
	scan = func(v int) {
		if v == sp.vars {
			values := sp.values(point)
			if domain.contains(values) {
				n := len(takers(branches, values))
				gap, overlap = gap || n == 0, overlap || n > 1
			}
			return
		}
		for x := faulttree.Amount(-14); x <= 16; x++ {
			if sp.vars == 3 && (x < -6 || x > 13) {
				continue
			}
			point[v] = x
			scan(v + 1)
		}
	}
	scan(0)
	return gap, overlap
}

// TestSumsOfInclusiveBounds keeps two neighbouring amounts apart: between "to
// 10 V" and "above 10 V" no reading lies, nor between their sums.
func TestSumsOfInclusiveBounds(t *testing.T) {
	sp := space{vars: 2, factors: [][]int64{{1, 1}}}
	domain := region{span(0, 0), span(0, 0), faulttree.Everything()}
	low := region{span(0, 10*volt+1), span(0, 10*volt+1), faulttree.Everything()}
	sum := region{span(0, 0), span(0, 0), span(20*volt+1, 0)}
	if point, v := sp.find(low.meet(sum)); v != infeasible {
		t.Errorf("to 10 V each and above 20 V together meet at %v", point)
	}
	sum[2].From = 20 * volt
	if point, v := sp.find(low.meet(sum)); v != feasible || point[0] != 10*volt || point[1] != 10*volt {
		t.Errorf("to 10 V each and from 20 V together: %v, %v", point, v)
	}
	work := forestWork
	if c := sp.comparePolytopes(domain, []region{low}, &work); len(c.gaps) == 0 || !c.complete {
		t.Errorf("everything else is a gap; got %+v", c)
	}
}

// largestDerived is 64 branches over three quantities and two derived values:
// a lattice cut by the sum, the difference, and one quantity.
func largestDerived() (sp space, domain region, branches []region) {
	sp = space{vars: 3, factors: [][]int64{{1, 1, 0}, {1, -1, 2}}}
	domain = region{span(0, 0), span(0, 0), span(0, 0), faulttree.Everything(), faulttree.Everything()}
	branches = []region{domain}
	for _, axis := range []int{3, 4, 2} {
		var next []region
		for _, b := range branches {
			for k := range faulttree.Amount(4) {
				part := slices.Clone(b)
				if k > 0 {
					part[axis].From = (60 + 20*k) * volt
				}
				if k < 3 {
					part[axis].Below = (80 + 20*k) * volt
				}
				next = append(next, part)
			}
		}
		branches = next
	}
	return sp, domain, branches
}

func TestLargestDerivedStepIsDecided(t *testing.T) {
	sp, domain, branches := largestDerived()
	work := stepWork
	if c := sp.comparePolytopes(domain, branches, &work); len(branches) != 64 || !c.complete || len(c.gaps)+len(c.overlaps) > 0 {
		t.Errorf("%d branches: complete %v, %d gaps, %d overlaps", len(branches), c.complete, len(c.gaps), len(c.overlaps))
	}
	work = stepWork
	if c := sp.comparePolytopes(domain, branches[:63], &work); !c.complete || len(c.gaps) == 0 || len(c.overlaps) > 0 {
		t.Errorf("one branch less: complete %v, %d gaps, %d overlaps", c.complete, len(c.gaps), len(c.overlaps))
	}
}

func BenchmarkDerived64x3(b *testing.B) {
	sp, domain, branches := largestDerived()
	for b.Loop() {
		work := stepWork
		if c := sp.comparePolytopes(domain, branches, &work); !c.complete {
			b.Fatal("undecided")
		}
	}
}

// TestEliminationIsBounded gives the most quantities and derived values with
// factors that keep every sum apart.
func TestEliminationIsBounded(t *testing.T) {
	r := rand.New(rand.NewPCG(8, 8))
	sp := space{vars: mostDerivedVars}
	domain := region{span(0, 0), span(0, 0), span(0, 0)}
	for range mostDerivedValues {
		sp.factors = append(sp.factors, []int64{r.Int64N(99999) - 50000, r.Int64N(99999) - 50000, r.Int64N(99999) - 50000})
		domain = append(domain, faulttree.Everything())
	}
	branches := make([]region, mostDerivedBranches)
	for i := range branches {
		branches[i] = slices.Clone(domain)
		for axis := range domain {
			from := faulttree.Amount(r.Int64N(int64(100 * volt)))
			branches[i][axis] = span(from, from+200*volt)
		}
	}
	work := 1_000_000
	if c := sp.comparePolytopes(domain, branches, &work); c.complete {
		t.Error("complete within the work; the test wants a harder question")
	}
	if work < -sumWork*10_000 {
		t.Errorf("the work was overdrawn by %d", -work)
	}
}
