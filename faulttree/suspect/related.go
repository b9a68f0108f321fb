package suspect

import (
	"math"
	"slices"
)

// What a vehicle reads depends on far more numbers than could be drawn together:
// loads, supply, soil, leaks, capacitances. With many readings hardly any drawn
// vehicle is near in all of them, and chance would decide. So each reading is
// weighed among the vehicles that fit the few readings before it to which it is
// most closely related: two legs that share one voltage, say. This is a Bayesian
// classifier of limited dependence (M. Sahami, Learning limited dependence Bayesian
// classifiers, KDD 1996). With few readings nothing is left out, and the belief is
// exact.

const (
	mostParents = 3    // readings given which another is weighed
	leastShared = 0.05 // of the variance of a reading that another explains within cells, below which it is left out
	enoughFit   = 5    // cases of a cell, as if all weighed the same, that have to fit these
	mostProbes  = 800  // cases by which readings are compared
)

// given is a reading, and the earlier ones given which it is weighed.
type given struct {
	reading int // index into weighing.likelihoods, as the parents
	parents []int
}

// chain puts the readings of a system in an order in which each comes after those
// to which it is most closely related.
func (k *weighing) chain(system int) []given {
	var left []int
	for j, l := range k.likelihoods {
		if l.about[system] {
			left = append(left, j)
		}
	}
	shared, least := k.explained(system, left)
	nearest := make([]float64, len(k.likelihoods)) // what the nearest in the chain explains
	var out []given
	for len(left) > 0 {
		at := 0
		for n, j := range left {
			if nearest[j] > nearest[left[at]] {
				at = n
			}
		}
		j := left[at]
		left = slices.Delete(left, at, at+1)
		one := given{reading: j}
		for _, i := range heaviest(shared[j]) {
			if len(one.parents) < mostParents && shared[j][i] >= least && !slices.Contains(left, i) && i != j {
				one.parents = append(one.parents, i)
			}
		}
		out = append(out, one)
		for _, i := range left {
			nearest[i] = max(nearest[i], shared[i][j])
		}
	}
	return out
}

// explained is how much of the variance of one reading another explains, in the mean
// over the cells of a system that fit best, without what it explains by chance
// (the adjusted coefficient of determination). Least is the share from which on
// it counts: three standard deviations of what chance makes of it, and more where few
// cases are compared.
func (k *weighing) explained(system int, readings []int) (shared [][]float64, least float64) {
	out := make([][]float64, len(k.likelihoods))
	for _, j := range readings {
		out[j] = make([]float64, len(k.likelihoods))
	}
	weights, cells := 0.0, 0.0
	for _, c := range k.likeliest(system, readings) {
		of := k.pool.cells[c]
		size := float64(len(of.cases))
		if size < 3 {
			continue
		}
		off := make([][]float64, len(readings))
		for n, j := range readings {
			off[n] = k.deviations(j, of.cases)
		}
		weights += size
		cells++
		for n, j := range readings {
			for m, i := range readings[:n] {
				r := 0.0
				for x, d := range off[n] {
					r += d * off[m][x]
				}
				r = size * (1 - (1-r*r)*(size-1)/(size-2))
				out[j][i] += r
				out[i][j] += r
			}
		}
	}
	for _, j := range readings {
		for i := range out[j] {
			out[j][i] /= max(weights, 1)
		}
	}
	return out, max(leastShared, 3*math.Sqrt(2*cells)/max(weights, 1))
}

// deviations is how far each of some cases is from their mean in how well a reading
// fits, the sum of squares being 1; all are 0 where they fit alike.
func (k *weighing) deviations(reading int, cases []int) []float64 {
	out, mean, squares := make([]float64, len(cases)), 0.0, 0.0
	for n, i := range cases {
		out[n] = k.likelihoods[reading].piece.distance(i)
		mean += out[n] / float64(len(cases))
	}
	for n := range out {
		out[n] -= mean
		squares += out[n] * out[n]
	}
	for n := range out {
		if squares > 1e-9 {
			out[n] /= math.Sqrt(squares)
		} else {
			out[n] = 0
		}
	}
	return out
}

// likeliest lists the cells of a system that are likeliest if each reading is
// independent of the others, until they have too many cases.
func (k *weighing) likeliest(system int, readings []int) []int {
	o := k.pool
	scores := make([]float64, len(o.cells))
	for c := range scores {
		scores[c] = math.Inf(-1)
		if o.systemOf(c) == system && o.cells[c].prior > 0 {
			scores[c] = math.Log(o.cells[c].prior)
			for _, j := range readings {
				scores[c] += math.Log(k.likelihoods[j].cells[c])
			}
		}
	}
	var out []int
	cases := 0
	for _, c := range heaviest(scores) {
		cases += len(o.cells[c].cases)
		if math.IsInf(scores[c], -1) || len(out) > 0 && cases > mostProbes {
			break
		}
		out = append(out, c)
	}
	return out
}

// addReading adds the likelihood of a reading, given its parents, in each cell of a
// system, and the variance of its logarithm: the fewer of the cases fit, the larger.
func (k *weighing) addReading(system int, g given) {
	o, in := k.pool, k.likelihoods[g.reading].in
	var fits []float64
	for c := range o.cells {
		if o.systemOf(c) != system {
			continue
		}
		of := &o.cells[c]
		fits = k.fits(fits[:0], of, g.parents)
		sum, product := 0.0, 0.0
		for n, i := range of.cases {
			sum += fits[n]
			product += fits[n] * float64(in[i])
		}
		if sum > 0 {
			k.logCells[c] += math.Log(product / sum)
		}
		if product > 0 {
			doubt := 0.0
			for n, i := range of.cases {
				d := fits[n] * (float64(in[i]) - product/sum)
				doubt += d * d
			}
			k.variance[c] += doubt / (product * product)
		}
	}
}

// fits is how well the cases of a cell fit some readings. Where fewer than enough
// do, the readings count for less: likelihoods to the power of a half, a quarter and
// so on.
func (k *weighing) fits(out []float64, of *cell, readings []int) []float64 {
	o := k.pool
	for _, i := range of.cases {
		p := 1.0
		for _, j := range readings {
			p *= float64(k.likelihoods[j].in[i])
		}
		out = append(out, p)
	}
	for range 6 {
		sum, squares := 0.0, 0.0
		for n, i := range of.cases {
			w := out[n] * o.prior[i]
			sum += w
			squares += w * w
		}
		if sum*sum >= squares*min(enoughFit, float64(len(of.cases))/2) {
			break
		}
		for n := range out {
			out[n] = math.Sqrt(out[n])
		}
	}
	for n, i := range of.cases {
		out[n] *= o.prior[i]
	}
	return out
}
