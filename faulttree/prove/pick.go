package prove

import (
	"math/big"
	"slices"

	"faultwright/faulttree"
)

// pick is a reading of a region without derived values.
func pick(r region) []faulttree.Amount {
	point := make([]faulttree.Amount, len(r))
	for i, s := range r {
		var low *big.Int
		if s.From != faulttree.Lowest {
			low = big.NewInt(int64(s.From))
		}
		point[i] = faulttree.Amount(fewestDigits(low, big.NewInt(int64(s.Below-1))).Int64())
	}
	return point
}

// choose extends point, variable by variable, by values within what the
// levels allow; nil if none was found within the tries.
func choose(levels [][]inequality, point []*big.Int, tries *int) []*big.Int {
	v := len(point)
	if v == len(levels)-1 {
		return point
	}
	var low, high *big.Int
	for _, in := range levels[v+1] {
		rest := new(big.Int).Set(in.most)
		for i, x := range point {
			rest.Sub(rest, new(big.Int).Mul(in.factor[i], x))
		}
		switch f := in.factor[v]; f.Sign() {
		case 1:
			if b := floorDiv(rest, f); high == nil || b.Cmp(high) < 0 {
				high = b
			}
		case -1: // -k·x <= rest, so x >= -rest/k rounded up
			k := new(big.Int).Neg(f)
			if b := floorDiv(rest, k); low == nil || b.Neg(b).Cmp(low) > 0 {
				low = new(big.Int).Neg(floorDiv(rest, k))
			}
		default:
			if rest.Sign() < 0 {
				return nil
			}
		}
	}
	for _, x := range candidates(low, high) {
		if *tries--; *tries < 0 {
			return nil
		}
		if full := choose(levels, append(slices.Clip(point), x), tries); full != nil {
			return full
		}
	}
	return nil
}

// candidates are values from low to high (nil: no bound), the one with the
// fewest digits first.
func candidates(low, high *big.Int) []*big.Int {
	if low != nil && high != nil && low.Cmp(high) > 0 {
		return nil
	}
	out := []*big.Int{fewestDigits(low, high)}
	for step := range int64(4) {
		if low != nil {
			if x := new(big.Int).Add(low, big.NewInt(step)); high == nil || x.Cmp(high) <= 0 {
				out = append(out, x)
			}
		}
		if high != nil {
			if x := new(big.Int).Sub(high, big.NewInt(step)); low == nil || x.Cmp(low) >= 0 {
				out = append(out, x)
			}
		}
	}
	return out
}

// fewestDigits is a value from low to high with few digits: the lowest whole
// volt, else the lowest tenth, and so on; where nothing bounds it below, the
// highest instead.
func fewestDigits(low, high *big.Int) *big.Int {
	if low == nil && high == nil || low == nil && high.Sign() >= 0 {
		return new(big.Int)
	}
	for step := int64(faulttree.One); step > 0; step /= 10 {
		s := big.NewInt(step)
		if low == nil {
			return new(big.Int).Mul(floorDiv(high, s), s)
		}
		up := new(big.Int).Neg(floorDiv(new(big.Int).Neg(low), s))
		if up.Mul(up, s); high == nil || up.Cmp(high) <= 0 {
			return up
		}
	}
	return low
}

// floorDiv is a/b rounded down, for b above zero.
func floorDiv(a, b *big.Int) *big.Int {
	q, rest := new(big.Int).QuoRem(a, b, new(big.Int))
	if rest.Sign() < 0 {
		q.Sub(q, big.NewInt(1))
	}
	return q
}
