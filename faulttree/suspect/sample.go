package suspect

import (
	"cmp"
	"math"
	"slices"
)

// sample is what some cases show, in order, and how far the weights of all up to each
// sum up.
type sample struct {
	values []float64
	up     []float64 // the last is 1
	size   float64   // cases, as if all weighed the same
}

// newSample is what a piece of evidence is about in some cases. What shows nothing is
// left out.
func newSample(w *piece, weights []float64, cases []int) sample {
	return sampleOf(func(i int) float64 {
		if w.reading != nil && w.reading.sizeOnly {
			return math.Abs(float64(w.column[i]))
		}
		return float64(w.column[i])
	}, weights, cases)
}

// sampleOf is a value of some cases; where it is not a number it is left out.
func sampleOf(value func(i int) float64, weights []float64, cases []int) sample {
	type shown struct{ value, weight float64 }
	all := make([]shown, 0, len(cases))
	var of size
	for _, i := range cases {
		x := value(i)
		if weight := weights[i]; x == x && weight > 0 { // not NaN
			all = append(all, shown{x, weight})
			of.add(weight)
		}
	}
	slices.SortFunc(all, func(a, b shown) int { return cmp.Compare(a.value, b.value) })
	out := sample{values: make([]float64, len(all)), up: make([]float64, len(all)), size: of.cases()}
	held := 0.0
	for n, a := range all {
		held += a.weight / of.sum
		out.values[n], out.up[n] = a.value, held
	}
	return out
}

// byChance is how seldom two samples of one distribution are taken for different.
const byChance = 0.001

// differs reports whether two samples are of different distributions: the two-sample
// test of N. V. Smirnov (Annals of Mathematical Statistics 19, 1948), in its asymptotic
// form.
func (s sample) differs(o sample) bool {
	if len(s.values) == 0 || len(o.values) == 0 {
		return false
	}
	critical := math.Sqrt(-math.Log(byChance/2) / 2 * (s.size + o.size) / (s.size * o.size))
	i, j, far := 0, 0, 0.0
	for i < len(s.values) && j < len(o.values) {
		x := min(s.values[i], o.values[j])
		for i < len(s.values) && s.values[i] == x {
			i++
		}
		for j < len(o.values) && o.values[j] == x {
			j++
		}
		far = max(far, math.Abs(s.below(i)-o.below(j)))
	}
	return far > critical
}

// below is the weight of the first n.
func (s sample) below(n int) float64 {
	if n == 0 {
		return 0
	}
	return s.up[n-1]
}
