package suspect

import (
	"math"
	"slices"
)

// A cell has some tens of cases, and what they read may be spread over decades, as
// loads and leaks are: whether one of them happens to be near a reading would be left
// to chance. So the distribution of a reading in a cell is estimated. Each case is first
// moved by what the readings given explain of it, by weighted least squares
// (M. A. Beaumont, W. Zhang and D. J. Balding, Genetics 162, 2002); then it stands
// for as wide a stretch as so many cases call for (B. W. Silverman, Density Estimation,
// 1986), never less than meter and model allow for.

// kernel is such an estimate. [kernel.fit] makes it anew for each cell, and keeps its
// memory. All distances are in tolerances of the model at the reading.
type kernel struct {
	same    []piece   // readings of one quantity; the estimate is made of the first
	scaled  []scaled  // by reading
	weights []float64 // of the cases that show a figure; else 0
	off     []float64 // how far each case is from the reading, once moved
	given   []float64 // how far each is from the readings given, a row for each case
	width   float64   // of each case, beside that of meter and model
	size    float64   // cases that the estimate rests on, as if all weighed the same
	beyond  bool      // a reading given lies far beyond the cases
}

// fit estimates how far from a reading the cases of a cell would be if they fitted the
// readings given. A reading given that lies far beyond the cases may be wrong: what it
// explains is extrapolated only where it is said to be right.
func (k *kernel) fit(given []*piece, cases []int, weights []float64, right bool) {
	w := &k.same[0]
	k.weights, k.off, k.given = append(k.weights[:0], weights...), k.off[:0], k.given[:0]
	var held size
	for n, i := range cases {
		z := float64(w.away[i])
		if z != z { // NaN
			k.weights[n], z = 0, 0
		}
		k.off = append(k.off, z)
		for _, g := range given {
			z, open := g.awayFrom(i)
			if open {
				k.weights[n] = 0
			}
			k.given = append(k.given, z)
		}
		held.add(k.weights[n])
	}
	k.width, k.size, k.beyond = 0, 0, false
	if held.sum > 0 {
		k.size = held.cases()
		k.move(len(given), held.sum, right)
		k.widen(held.sum, 1+w.ownWidth)
	}
}

// awayFrom is how far a case is from a reading that is given, 0 where it tells
// nothing; open where the case shows OL and the reading a figure.
func (w *piece) awayFrom(i int) (z float64, open bool) {
	if w.away == nil || w.reading.over {
		return 0, false
	}
	if z = float64(w.away[i]); z != z {
		return 0, !math.IsNaN(float64(w.column[i]))
	}
	return z, false
}

// move takes away what the p readings given explain, as far as that is more than
// chance would.
func (k *kernel) move(p int, sum float64, right bool) {
	free := k.size - float64(p) - 1
	if p == 0 || free <= float64(p) {
		return
	}
	m := k.moments(p, sum, right)
	slope := m.slopes(p)
	explained := 0.0
	for j := range p {
		explained += slope[j] * m[p][j]
	}
	if explained <= 0 || m[p][p] < 1e-6 {
		return
	}
	explained = min(explained/m[p][p], 1)
	keep := max(0, 1-2*float64(p)/free*(1-explained)/explained)
	for n := range k.off {
		for j, z := range k.given[n*p : n*p+p] {
			k.off[n] -= keep * slope[j] * z
		}
	}
	k.size = max(1, k.size-keep*float64(p))
}

// moments are the covariances of some readings given, and of the reading itself
// as the last.
type moments [mostParents + 1][mostParents + 1]float64

func (k *kernel) moments(p int, sum float64, right bool) *moments {
	var mean, square, row [mostParents + 1]float64
	var out moments
	each := func(visit func(w float64)) {
		for n, w := range k.weights {
			if w > 0 {
				copy(row[:], k.given[n*p:n*p+p])
				row[p] = k.off[n]
				visit(w / sum)
			}
		}
	}
	each(func(w float64) {
		for j, x := range row[:p+1] {
			mean[j] += w * x
			square[j] += w * x * x
		}
	})
	each(func(w float64) {
		for j := range p + 1 {
			for l := range j + 1 {
				out[j][l] += w * (row[j] - mean[j]) * (row[l] - mean[l])
			}
		}
	})
	for j := range p {
		if off := mean[j] * mean[j]; off > farBeyond*(square[j]-off+ridge) {
			k.beyond = true
			if !right {
				out.leaveOut(j, p)
			}
		}
	}
	return &out
}

// farBeyond is the square of how many standard deviations the cases may lie beside a
// reading given: further is far beyond.
const farBeyond = 4

// leaveOut makes one of p readings given explain nothing.
func (m *moments) leaveOut(given, p int) {
	for j := range p + 1 {
		m[max(j, given)][min(j, given)] = 0
	}
}

// ridge is added to the variance of a reading given: it is known only so closely.
const ridge = 0.1

// slopes are those of the reading over p readings given, by elimination.
func (m *moments) slopes(p int) (slope [mostParents]float64) {
	var a [mostParents][mostParents + 1]float64
	for j := range p {
		for l := range p {
			a[j][l] = m[max(j, l)][min(j, l)]
		}
		a[j][j] += ridge
		a[j][p] = m[p][j]
	}
	for j := range p {
		for l := j + 1; l < p; l++ {
			f := a[l][j] / a[j][j]
			for n := j; n <= p; n++ {
				a[l][n] -= f * a[j][n]
			}
		}
	}
	for j := p - 1; j >= 0; j-- {
		slope[j] = a[j][p]
		for l := j + 1; l < p; l++ {
			slope[j] -= a[j][l] * slope[l]
		}
		slope[j] /= a[j][j]
	}
	return slope
}

// widen sets the width to what the spread of so many cases calls for, or, where they
// lie in clusters, to how far it is to the nearest few; what meter and model allow
// for is a part of it.
func (k *kernel) widen(sum, own float64) {
	const least = -3 // exponent of the nearest stretch
	mean, square := 0.0, 0.0
	var within [14]float64 // weight by the power of two of how far off
	for n, w := range k.weights {
		z := k.off[n]
		mean += w / sum * z
		square += w / sum * z * z
		within[max(0, min(len(within)-1, exponent(z)-least))] += w
	}
	k.width = 0.9 * math.Sqrt(max(0, square-mean*mean)) * math.Pow(k.size, -0.2)
	few, held := min(1, 2/math.Sqrt(k.size))*sum, 0.0
	for e, w := range within {
		if held+w >= few {
			low := math.Ldexp(0.5, e+least)
			k.width = min(k.width, low*(1+(few-held)/w))
			break
		}
		held += w
	}
	k.width = math.Sqrt(max(0, k.width*k.width-own))
}

// exponent is that of [math.Frexp], but that it may be anything below -1000 for what is
// nearer to 0.
func exponent(x float64) int {
	if x == 0 {
		return 0
	}
	return int(math.Float64bits(x)>>52&0x7ff) - 1022
}

// scaled is what the likelihood of a reading takes from it alone.
type scaled struct {
	shift float64 // from the first reading, in tolerances
	own   float64 // variance that meter and model allow for
	exact float64 // density of a case that reads just this, over that of the distribution
}

// scale works out what a likelihood takes from the readings alone.
func (k *kernel) scale() {
	for i := range k.same {
		w := &k.same[i]
		own := 1 + w.ownWidth
		k.scaled = append(k.scaled, scaled{
			shift: 2 * (k.same[0].reading.middle() - w.reading.middle()), own: own,
			exact: w.exact / studentT(0, own),
		})
	}
}

// likelihood is that of all readings of the quantity in the nth case of the cell.
func (k *kernel) likelihood(n int) float64 {
	if k.scaled == nil {
		k.scale()
	}
	all, further := 1.0, k.width*k.width
	for i, s := range k.scaled {
		w, z := &k.same[i], k.off[n]+s.shift
		all *= w.ofDensity(s.exact * studentT(z*z, s.own+further))
	}
	return all
}

// estimate puts the likelihood of the reading in place of another in each case of a cell
// that shows a figure. It returns the logarithm of the mean, and what that is if readings
// given that lie far beyond the cases are right.
func (k *kernel) estimate(in []float64, best float64, given []*piece, cases []int, weights []float64) (log, extreme float64) {
	k.fit(given, cases, weights, true)
	if !k.beyond {
		k.of(in, best)
		log = meanOf(in, weights)
		return log, log
	}
	far := slices.Clone(in)
	k.of(far, best)
	k.fit(given, cases, weights, false)
	k.of(in, best)
	return meanOf(in, weights), meanOf(far, weights)
}

// of puts the likelihood in each case that shows a figure in place of another, beside
// the best.
func (k *kernel) of(in []float64, best float64) {
	for n := range in {
		if k.weights[n] > 0 {
			in[n] = k.likelihood(n) / best
		}
	}
}

// middle is how many steps the reading lies from 0.
func (r *reading) middle() float64 { return r.steps(r.value, r.ohms) }

// away is how far what a case reads is from the reading, in tolerances of the model
// there, with its sign; NaN where it shows no figure.
func (r *reading) away(x float64) float64 {
	if r.sizeOnly {
		x = math.Abs(x)
	}
	if math.IsInf(x, 0) || r.over {
		return math.NaN()
	}
	return 2 * (r.steps(x, r.ohms) - r.middle())
}

// tolerance is how far the model may be off at the reading.
func (r *reading) tolerance() float64 {
	size := math.Abs(r.value)
	if r.ohms && size > manyOhms {
		return math.Sqrt(r.squareShare(size)) * size
	}
	return max(r.share*size, r.least)
}
