package prove

import (
	"slices"

	"faultwright/faulttree"
)

// Derived values are allowed within these sizes only.
const (
	mostDerivedVars     = 3
	mostDerivedBranches = 64
	mostDerivedValues   = 8
)

// domain is every reading of the variables, derived values free.
func (sp space) domain(s *faulttree.Step) region {
	r := make(region, sp.vars+len(sp.factors))
	for i := range r {
		r[i] = faulttree.Everything()
	}
	for i, v := range s.Measure {
		r[i] = v.Quantity.Domain()
	}
	return r
}

func (r region) meet(t region) region {
	out := make(region, len(r))
	for i := range r {
		out[i] = r[i].Meet(t[i])
	}
	return out
}

// comparePolytopes decides whether the branches' regions fill the domain
// exactly once. Overlaps are sought pair by pair; for gaps each branch is
// taken away from what is left of the domain, and every piece that holds no
// reading is dropped at once.
func (sp space) comparePolytopes(domain region, branches []region, work *int) cover {
	c := cover{complete: true}
	sp.work = work
	look := func(r region) feasibility {
		if *work < 0 {
			return undecided
		}
		_, v := sp.find(r)
		return v
	}
	for i, a := range branches {
		for j := i + 1; j < len(branches) && len(c.overlaps) < mostShown; j++ {
			both := a.meet(branches[j])
			switch look(both) {
			case feasible:
				c.overlap(i, j, both)
			case undecided:
				c.complete = false
			}
		}
	}
	left := []region{domain}
	for _, b := range branches {
		var next []region
		for _, r := range left {
			for _, piece := range without(r, b) {
				if look(piece) != infeasible {
					next = append(next, piece)
				}
			}
		}
		left = next
		if *work < 0 {
			c.complete = false
			return c
		}
	}
	for _, r := range left {
		if look(r) == feasible {
			c.gap(r)
		} else {
			c.complete = false
		}
	}
	return c
}

// without is r less b, as pieces that share no reading: for each axis what
// lies below b and above it, then r is narrowed to b there.
func without(r, b region) []region {
	var out []region
	r = slices.Clone(r)
	for axis, s := range b {
		if r[axis].Within(s) {
			continue
		}
		for _, outside := range []faulttree.Span{{From: faulttree.Lowest, Below: s.From}, {From: s.Below, Below: faulttree.Highest}} {
			if part := r[axis].Meet(outside); !part.Empty() && !outside.Empty() {
				piece := slices.Clone(r)
				piece[axis] = part
				out = append(out, piece)
			}
		}
		if r[axis] = r[axis].Meet(s); r[axis].Empty() {
			return out
		}
	}
	return out
}
