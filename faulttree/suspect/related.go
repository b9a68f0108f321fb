package suspect

import (
	"math"
	"runtime"
	"slices"
	"sync"

	"faultwright/faulttree/lists"
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
	mostParents  = 3    // readings given which another is weighed
	leastShared  = 0.05 // of the variance of a reading that another explains within cells, below which it is left out
	enoughFit    = 5    // cases of a cell, as if all weighed the same, that have to fit these
	enoughSample = 12   // the same where a distribution is estimated from them
	fewReadings  = 20   // of which enough cases are near, so that no distribution has to be estimated
	mostProbes   = 800  // cases by which readings are compared
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
			off[n] = k.deviations(j, c)
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

// deviationKey is a reading, or what was seen or tried, in the cases of a cell.
type deviationKey struct {
	about   string
	reading reading // the zero value of what was seen or tried
	cell    int
}

// deviations is [deviations] of the cases of a cell from a reading.
func (k *weighing) deviations(reading, cell int) []float64 {
	w := &k.likelihoods[reading].same[0]
	key := deviationKey{about: k.evidence[w.at].about(), cell: cell}
	if w.reading != nil {
		key.reading = *w.reading
	}
	return k.pool.deviations.of(key, func() []float64 { return deviations(w, k.pool.cells[cell].cases) })
}

// deviations is how far each of some cases is from their mean in how well a reading
// fits, the sum of squares being 1; all are 0 where they fit alike.
func deviations(w *piece, cases []int) []float64 {
	out, mean, squares := make([]float64, len(cases)), 0.0, 0.0
	for n, i := range cases {
		out[n] = w.distance(i)
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

// hopeless is how far the logarithm of the likelihood of a cell lies below that of the
// likeliest where it does not matter any more how closely it is known.
const hopeless = 25

// addReading adds the likelihood of a reading, given its parents, in each cell of a
// system, and the variance of its logarithm: the fewer of the cases fit, the larger.
// Of many readings its distribution is estimated; for few the cases themselves do.
func (k *weighing) addReading(system int, g given, many bool) {
	o, l := k.pool, &k.likelihoods[g.reading]
	estimated := many && !slices.ContainsFunc(l.same, func(w piece) bool { return w.reading == nil || w.reading.over })
	given := lists.Each(g.parents, func(j int) *piece { return &k.likelihoods[j].same[0] })
	most, enough := k.likeliestYet(system), max(enoughFit, k.near)
	if many {
		enough = max(enoughSample, k.near)
	}
	eachPart(len(o.cells), func(part, from, to int) {
		room := &k.room.parts[part]
		fits, in := room.fits, room.in
		defer func() { room.fits, room.in = fits, in }()
		est := kernel{same: l.same}
		for c := from; c < to; c++ {
			if o.systemOf(c) != system {
				continue
			}
			of := &o.cells[c]
			fits, in = k.fits(fits[:0], of, g.parents, enough), in[:0]
			for _, i := range of.cases {
				in = append(in, float64(l.in[i]))
			}
			var log, extreme float64
			if estimated && k.mostOf(c) > most-hopeless {
				log, extreme = est.estimate(in, l.best, given, of.cases, fits)
			} else {
				log = meanOf(in, fits)
				extreme = log
			}
			k.logCells[c] += log
			k.logExtremes[c] += extreme
			k.addInfluences(of.cases, in, fits)
		}
	})
}

// mostParts bounds the parts that are worked on at a time.
const mostParts = 32

// eachPart does work on parts of n things, on all cores; what comes of a thing must not
// depend on its part. Parts are numbered from 0.
func eachPart(n int, work func(part, from, to int)) {
	parts := min(n, runtime.GOMAXPROCS(0), mostParts)
	var all sync.WaitGroup
	for part := range parts {
		all.Go(func() { work(part, part*n/parts, (part+1)*n/parts) })
	}
	all.Wait()
}

// likeliestYet is the logarithm of the likelihood of the likeliest cell of a system.
func (k *weighing) likeliestYet(system int) float64 {
	most := math.Inf(-1)
	for c := range k.logCells {
		if k.pool.systemOf(c) == system {
			most = max(most, k.mostOf(c))
		}
	}
	return most
}

// mostOf is the larger of the two likelihoods of a cell, as a logarithm.
func (k *weighing) mostOf(c int) float64 { return max(k.logCells[c], k.logExtremes[c]) }

// joinExtremes makes one likelihood of the two of each cell. Either a reading far beyond
// what was drawn is wrong, or the vehicle is an extreme one of its kind, and then all
// readings that depend on the same thing lie there with it: both count the same.
func (k *weighing) joinExtremes() {
	for c := range k.logCells {
		if most := k.mostOf(c); !math.IsInf(most, -1) {
			k.logCells[c] = most + math.Log((math.Exp(k.logCells[c]-most)+math.Exp(k.logExtremes[c]-most))/2)
		}
	}
}

// meanOf is the logarithm of the weighted mean of likelihoods; 0 where nothing weighs.
func meanOf(likelihoods, weights []float64) float64 {
	sum, product := 0.0, 0.0
	for n, w := range weights {
		sum += w
		product += w * likelihoods[n]
	}
	if sum == 0 {
		return 0
	}
	return math.Log(product / sum)
}

// addInfluences adds how far each case of a cell moves the logarithm of the mean. One
// case that is far from the others moves many readings that depend on the same thing,
// so the influences are added up over all readings before they are squared
// (the infinitesimal jackknife; B. Efron, The Jackknife, the Bootstrap and Other
// Resampling Plans, 1982).
func (k *weighing) addInfluences(cases []int, likelihoods, weights []float64) {
	sum, product := 0.0, 0.0
	for n, w := range weights {
		sum += w
		product += w * likelihoods[n]
	}
	if product == 0 {
		return
	}
	alike := 1 / sum
	for n, i := range cases {
		k.influence[i] += weights[n] * (likelihoods[n]/product - alike)
	}
}

// variances sets the variance of the logarithm of the likelihood of each cell.
func (k *weighing) variances() {
	for c := range k.variance {
		for _, i := range k.pool.cells[c].cases {
			k.variance[c] += k.influence[i] * k.influence[i]
		}
	}
}

// fits is how well the cases of a cell fit some readings. Where fewer than enough
// do, the readings count for less: likelihoods to the power of a half, a quarter and
// so on.
func (k *weighing) fits(out []float64, of *cell, readings []int, enough float64) []float64 {
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
		if sum*sum >= squares*min(enough, float64(len(of.cases))/2) {
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
