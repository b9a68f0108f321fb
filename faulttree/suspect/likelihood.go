package suspect

import (
	"math"
	"slices"
)

// likelihood is that of a piece of evidence, or of all readings of one quantity, as a
// share of what it is in a case that shows just this: so products of many do not
// underflow.
type likelihood struct {
	pieces     int
	in         []float32 // of each case
	same       []piece   // all of them
	best       float64   // in a case that shows just this
	cells      []float64 // of each cell: the mean over its cases
	most       []float64 // of each cell: that of the case which fits it best
	about      []bool    // whether it is about a system at all
	sound      []float64 // the sound vehicles of a system, or all where none is sound
	uninformed float64   // where nothing is known about the vehicle
}

// mean is a weighted mean.
type mean struct{ sum, weight float64 }

func (m *mean) add(o mean) { m.sum += o.sum; m.weight += o.weight }

// of is the mean, or another value where nothing was added.
func (m mean) of(otherwise float64) float64 {
	if m.weight > 0 {
		return m.sum / m.weight
	}
	return otherwise
}

// size is of how many cases weights are.
type size struct{ sum, squares float64 }

func (s *size) add(weight float64) {
	s.sum += weight
	s.squares += weight * weight
}

// cases is how many they are, as if all weighed the same (L. Kish, Survey Sampling,
// 1965); 0 for none.
func (s size) cases() float64 {
	if s.squares == 0 {
		return 0
	}
	return s.sum * s.sum / s.squares
}

// withoutComplaint is how likely it is that somebody tries something against a
// complaint where the model has none, beside a vehicle where it has: limits are not
// sharp, and neither are complaints. Common practice, no source.
const withoutComplaint = 0.2

// likelihoodKey is all that the likelihood of one piece of evidence follows from.
type likelihoodKey struct {
	about          string
	reading        reading // the zero value of what was seen or tried
	wrong, ifWrong float64
	asStated       bool
	complained     bool // it is said already that there is a complaint
}

// likelihoodOf is the likelihood of one piece of evidence, or of all readings of one
// quantity.
func (k *weighing) likelihoodOf(same []piece) (l likelihood) {
	w, e := &same[0], k.evidence[same[0].at]
	complained := e.Tried != nil && slices.ContainsFunc(k.evidence, Evidence.isComplaint)
	defer func() { l.same = same }()
	if len(same) > 1 {
		return k.newLikelihood(same, complained)
	}
	key := likelihoodKey{about: e.about(), wrong: w.wrong, ifWrong: w.ifWrong, asStated: w.asStated, complained: complained}
	if w.reading != nil {
		key.reading = *w.reading
	}
	return k.pool.likelihoods.of(key, func() likelihood { return k.newLikelihood(same, complained) })
}

// newLikelihood works a likelihood out. A case whose rig has no such quantity takes the mean of the others
// of its system: that tells nothing about which rig it is. One that has not the complaint
// that something was tried against takes a part of it, unless that is said already.
func (k *weighing) newLikelihood(same []piece, complained bool) likelihood {
	o, w := k.pool, &same[0]
	best, anything := 1.0, 1.0
	for i := range same {
		best *= same[i].bestLikelihood()
		anything *= same[i].uninformed()
	}
	l := likelihood{
		pieces: len(same), best: best, in: make([]float32, len(o.cases)), cells: make([]float64, len(o.cells)), most: make([]float64, len(o.cells)),
		about: make([]bool, len(o.systems)), uninformed: anything / best,
	}
	all := make([]mean, len(o.systems))
	var room [256]float64
	start := 1 / best
	for from := 0; from < len(l.in); from += len(room) {
		some := room[:min(len(room), len(l.in)-from)]
		for n := range some {
			some[n] = start
		}
		for n := range same {
			same[n].multiply(some, from)
		}
		for n, x := range some {
			i := from + n
			l.in[i] = float32(x)
			if x == x { // not NaN
				all[o.system(i)].add(mean{o.prior[i] * x, o.prior[i]})
			}
		}
	}
	for s, m := range all {
		l.about[s] = m.weight > 0
	}
	if k.evidence[w.at].Seen != nil {
		k.notAboutAlike(&l)
	}
	if s := k.systemOfReading(w, &l); s >= 0 {
		for other := range all {
			l.about[other] = other == s
		}
	}
	part := 1.0
	if k.evidence[w.at].Tried != nil && !complained {
		part = withoutComplaint
	}
	cells := make([]mean, len(o.cells))
	for i, x := range l.in {
		switch s := o.system(i); {
		case !l.about[s]:
			l.in[i] = 1
		case x != x:
			l.in[i] = float32(all[s].of(1) * part)
		}
		c, x := o.cell[i], float64(l.in[i])
		if x > l.most[c] {
			l.most[c] = x
		}
		cells[c].add(mean{o.prior[i] * x, o.prior[i]})
	}
	for c, m := range cells {
		l.cells[c] = m.of(1)
	}
	l.sound = o.soundMeans(l.cells)
	return l
}

// notAboutAlike takes what was seen to be about no system of which all cases show it
// alike, where those of another do not: that nobody felt a tingle says nothing of the 12 V
// side, and brings no suspects of it up.
func (k *weighing) notAboutAlike(l *likelihood) {
	first, alike := make([]float32, len(l.about)), slices.Clone(l.about)
	met := make([]bool, len(l.about))
	for i, x := range l.in {
		s := k.pool.system(i)
		switch {
		case x != x:
		case !met[s]:
			first[s], met[s] = x, true
		case x != first[s]:
			alike[s] = false
		}
	}
	for s, about := range l.about {
		if about && !alike[s] {
			for o := range l.about {
				l.about[o] = l.about[o] && !alike[o]
			}
			return
		}
	}
}

// systemOfReading is the system that a reading is about where more than one has such
// a quantity: the one in which it differs most from vehicle to vehicle, as the body to
// the spike does on the 120 V side and next to never on the 12 V side. It is -1
// where it is about all that have the quantity: where only one has, or where the
// reading fits nothing in that system and something in another.
func (k *weighing) systemOfReading(w *piece, l *likelihood) int {
	have := 0
	for _, is := range l.about {
		if is {
			have++
		}
	}
	if w.reading == nil || have < 2 {
		return -1
	}
	fits := make([]bool, len(l.about))
	for i, x := range l.in {
		if float64(x) > l.uninformed { // not where it is NaN
			fits[k.pool.system(i)] = true
		}
	}
	most, widest := -1, math.Inf(-1)
	for s, spread := range k.pool.variances(w) {
		if l.about[s] && spread > widest {
			most, widest = s, spread
		}
	}
	if !fits[most] && slices.Contains(fits, true) {
		return -1
	}
	return most
}

// variances is the variance of a quantity over each system, in steps that can be told
// apart.
func (o *pool) variances(w *piece) []float64 {
	values, squares := make([]mean, len(o.systems)), make([]mean, len(o.systems))
	for i, value := range w.column {
		x := w.reading.steps(min(float64(value), w.reading.top), w.reading.ohms)
		if x == x { // not NaN
			s, p := o.system(i), o.prior[i]
			values[s].add(mean{p * x, p})
			squares[s].add(mean{p * x * x, p})
		}
	}
	out := make([]float64, len(o.systems))
	for s := range out {
		middle := values[s].of(0)
		out[s] = squares[s].of(0) - middle*middle
	}
	return out
}

// systemOf is the system of a cell.
func (o *pool) systemOf(cell int) int { return o.kinds[o.cells[cell].kind].system }

// soundMeans is the mean over the sound vehicles of each system, or over all where
// none is sound, of a number by cell.
func (o *pool) soundMeans(cells []float64) []float64 {
	all, sound := make([]mean, len(o.systems)), make([]mean, len(o.systems))
	for c, x := range cells {
		m := mean{x * o.cells[c].prior, o.cells[c].prior}
		all[o.systemOf(c)].add(m)
		if len(o.kinds[o.cells[c].kind].faults) == 0 {
			sound[o.systemOf(c)].add(m)
		}
	}
	out := make([]float64, len(o.systems))
	for s := range out {
		out[s] = sound[s].of(all[s].of(0))
	}
	return out
}

// logNoneOfThese is the logarithm of the likelihood of all evidence in a vehicle
// unlike any that is drawn: each reading is with equal chance as in a sound one, or
// anything.
func (k *weighing) logNoneOfThese(system int) float64 {
	sum := 0.0
	for _, l := range k.likelihoods {
		if l.about[system] {
			sum += math.Log((l.sound[system] + l.uninformed) / 2)
		}
	}
	return sum
}
