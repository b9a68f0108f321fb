package prove

import (
	"math/big"
	"slices"

	"faultwright/faulttree"
)

// space is the axes of a step with derived values: the measured quantities,
// then the derived values, which are whole-numbered functions of them. A
// region of it is a polytope.
type space struct {
	vars    int
	factors [][]int64 // per derived value, a factor for each variable
	work    *int      // lowered by what is spent; nil means findWork for each look
	all     *int      // lowered as well where work is nil; may be nil
}

// What a look for a point may cost where no other bound is set, and what its
// parts cost, in looks at one side of one box.
const (
	findWork    = 500_000
	sumWork     = 25 // one sum of two inequalities
	compareWork = 2  // one comparison of two left sides
)

// newSpace is the space of s; false if a term names no variable.
func newSpace(s *faulttree.Step) (space, bool) {
	sp := space{vars: len(s.Measure)}
	for _, d := range s.Derive {
		row := make([]int64, sp.vars)
		for _, t := range d.Terms {
			if t.Var < 0 || t.Var >= sp.vars {
				return sp, false
			}
			row[t.Var] += t.Factor
		}
		sp.factors = append(sp.factors, row)
	}
	return sp, true
}

// feasibility says whether a reading lies in a region.
type feasibility uint8

const (
	infeasible feasibility = iota // no reading lies in it
	feasible                      // a reading does
	undecided                     // neither could be shown
)

// inequality is Σ factor[i]·x[i] <= most over whole numbers of billionths.
type inequality struct {
	factor []*big.Int
	most   *big.Int
}

// find looks for readings in r, by Fourier-Motzkin elimination in whole
// numbers: one variable after another is eliminated by adding each upper to
// each lower bound on it; then values are chosen backwards. Amounts are whole
// billionths, so "x below b" is "x at most b minus one billionth" and a
// contradiction is a proof; each sum is divided by the common divisor of its
// factors and rounded down, which loses no reading. Only where a factor above
// one is eliminated can the choice backwards run into a part without whole
// numbers; then other values are tried, and the region may be left undecided.
//
// Method: J. Fourier 1826, T. Motzkin 1936; public mathematics.
func (sp space) find(r region) ([]faulttree.Amount, feasibility) {
	if r.empty() {
		return nil, infeasible
	}
	if len(sp.factors) == 0 {
		return pick(r), feasible
	}
	work := sp.work
	if work == nil {
		fresh := findWork
		if sp.all != nil {
			fresh = min(fresh, *sp.all)
			before := fresh
			defer func() { *sp.all -= before - fresh }()
		}
		work = &fresh
	}
	levels := make([][]inequality, sp.vars+1)
	levels[sp.vars] = sp.inequalities(r)
	for v := sp.vars; v > 0; v-- {
		next, possible := eliminate(levels[v], v-1, work)
		if !possible {
			return nil, infeasible
		}
		if *work < 0 {
			return nil, undecided
		}
		levels[v-1] = next
	}
	tries := 200
	point := make([]*big.Int, 0, sp.vars)
	point = choose(levels, point, &tries)
	*work -= sumWork * (200 - tries) * len(levels[sp.vars])
	if point == nil {
		return nil, undecided
	}
	out := make([]faulttree.Amount, sp.vars)
	for i, x := range point {
		if !x.IsInt64() {
			return nil, undecided
		}
		out[i] = faulttree.Amount(x.Int64())
	}
	return out, feasible
}

// mayHold reports whether r may hold a reading; it errs to yes.
func (sp space) mayHold(r region) bool {
	if r.empty() || len(sp.factors) == 0 {
		return !r.empty()
	}
	_, v := sp.find(r)
	return v != infeasible
}

func (sp space) inequalities(r region) []inequality {
	var out []inequality
	add := func(factors []int64, sign int64, most faulttree.Amount) {
		in := inequality{most: big.NewInt(int64(most))}
		for _, f := range factors {
			in.factor = append(in.factor, new(big.Int).Mul(big.NewInt(f), big.NewInt(sign)))
		}
		if sign < 0 {
			in.most.Neg(in.most)
		}
		out = append(out, in)
	}
	for axis, s := range r {
		factors := make([]int64, sp.vars)
		if axis < sp.vars {
			factors[axis] = 1
		} else {
			factors = sp.factors[axis-sp.vars]
		}
		if s.Below != faulttree.Highest {
			add(factors, 1, s.Below-1)
		}
		if s.From != faulttree.Lowest {
			add(factors, -1, s.From)
		}
	}
	return out
}

// eliminate removes variable v; false if the sums contradict each other. With
// work spent the list is cut short, and true.
func eliminate(list []inequality, v int, work *int) ([]inequality, bool) {
	var upper, lower, out []inequality
	for _, in := range list {
		switch in.factor[v].Sign() {
		case 1:
			upper = append(upper, in)
		case -1:
			lower = append(lower, in)
		default:
			out = append(out, inequality{in.factor[:v], in.most})
		}
	}
	if *work -= sumWork * (len(list) + len(upper)*len(lower)); *work < 0 {
		return nil, true
	}
	for _, u := range upper {
		for _, l := range lower {
			a, b := new(big.Int).Neg(l.factor[v]), u.factor[v]
			sum := inequality{most: combine(a, u.most, b, l.most)}
			for i := range v {
				sum.factor = append(sum.factor, combine(a, u.factor[i], b, l.factor[i]))
			}
			out = append(out, sum)
		}
	}
	kept := out[:0]
	for _, in := range out {
		in, holds, needed := in.reduced()
		if !holds {
			return nil, false
		}
		if needed {
			if *work -= compareWork * len(kept); *work < 0 {
				return nil, true
			}
			kept = strongest(kept, in)
		}
	}
	return kept, true
}

// combine is a·x + b·y.
func combine(a, x, b, y *big.Int) *big.Int {
	sum := new(big.Int).Mul(a, x)
	return sum.Add(sum, new(big.Int).Mul(b, y))
}

// reduced divides by the common divisor of the factors. An inequality without
// variables is not needed; holds says whether it is true.
func (in inequality) reduced() (_ inequality, holds, needed bool) {
	divisor := new(big.Int)
	for _, f := range in.factor {
		divisor.GCD(nil, nil, divisor, new(big.Int).Abs(f))
	}
	if divisor.Sign() == 0 {
		return in, in.most.Sign() >= 0, false
	}
	out := inequality{most: floorDiv(in.most, divisor)}
	for _, f := range in.factor {
		out.factor = append(out.factor, new(big.Int).Quo(f, divisor))
	}
	return out, true, true
}

// strongest adds in to list, keeping one inequality for each left side.
func strongest(list []inequality, in inequality) []inequality {
	for i, other := range list {
		if slices.EqualFunc(in.factor, other.factor, func(a, b *big.Int) bool { return a.Cmp(b) == 0 }) {
			if in.most.Cmp(other.most) < 0 {
				list[i] = in
			}
			return list
		}
	}
	return append(list, in)
}
