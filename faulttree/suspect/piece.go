package suspect

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"
	"sync"

	"faultwright/faulttree"
)

// piece is a piece of evidence with what it would be in each case.
type piece struct {
	at     int // index into the evidence
	wrong  float64
	column []float32 // what is read, or the probability of what was seen or tried, by case

	reading      *reading  // nil for what was seen or tried
	density      []float32 // of the reading in each case, where nothing went wrong with it
	away         []float32 // how far each case is from it, in tolerances; NaN where it shows no figure; known once many are weighed
	exact        float64   // the density in a case that reads just this
	ownWidth     float64   // square of the uncertainty of the meter, in tolerances
	wrongDensity float64   // the same where it went wrong
	ifWrong      float64   // the part of the likelihood that it went wrong
	times        float64   // how often the same was read: the model's error in it counts once
	asStated     bool      // the probability counts as it stands; false: the opposite

	findAway func() []float32
}

// densityKey is a reading of a quantity.
type densityKey struct {
	quantity string
	reading  reading
}

// density is that of a reading in each case, where nothing went wrong, and, once somebody
// asks, how far each is away from it.
type density struct {
	in   []float32
	away func() []float32
}

func densityOf(r reading, column []float32) density {
	each := func(of func(float64) float64) []float32 {
		out := make([]float32, len(column))
		for i, x := range column {
			out[i] = float32(of(float64(x)))
		}
		return out
	}
	return density{each(r.in), sync.OnceValue(func() []float32 { return each(r.away) })}
}

// pieces prepares the evidence of a round for weighing the cases of a pool. What
// tells nothing is left out.
func (r *Reasoner) pieces(ctx context.Context, o *pool, evidence []Evidence) ([]piece, error) {
	var out []piece
	var read []faulttree.Quantity
	for i, e := range evidence {
		if err := e.check(); err != nil {
			return nil, fmt.Errorf("evidence %d: %w", i+1, err)
		}
		if e.Seen == nil && e.Tried == nil && e.Reading.Quality != faulttree.NotPossible {
			read = append(read, e.Quantity)
		}
	}
	if err := solveTogether(ctx, o.Population, read); err != nil {
		return nil, err
	}
	times := map[string]float64{}
	leads := leadsOf(evidence)
	for i, e := range evidence {
		w := piece{at: i, wrong: r.assumed.wrong(e), times: 1}
		var err error
		switch {
		case e.Seen != nil:
			w.asStated = true
			w.column, err = o.Seen(ctx, e.Seen.Observation, e.Seen.Choice)
		case e.Tried != nil:
			w.asStated = e.Tried.Gone
			w.column, err = o.Gone(ctx, e.Tried.Intervention, e.Tried.Tree)
		case e.Reading.Quality == faulttree.NotPossible:
			continue
		default:
			x := newReading(e.Quantity, e.Reading, r.meter)
			if x.ohms && !e.Told {
				x.least = min(x.least, leads)
			}
			w.reading = &x
			times[e.Quantity.ID]++
			w.column, err = o.Column(ctx, e.Quantity)
		}
		if err != nil {
			return nil, fmt.Errorf("evidence %d: %w", i+1, err)
		}
		if len(w.column) != len(o.cases) {
			return nil, fmt.Errorf("evidence %d: the population tells of %d cases; expected %d", i+1, len(w.column), len(o.cases))
		}
		if w.reading != nil {
			d := o.densities.of(densityKey{e.Quantity.ID, *w.reading}, func() density { return densityOf(*w.reading, w.column) })
			w.density, w.findAway = d.in, d.away
			if !w.reading.over {
				w.exact = w.reading.in(w.reading.value)
				own := w.reading.deviation / w.reading.tolerance()
				w.ownWidth = own * own
			}
		}
		out = append(out, w)
	}
	setWrongDensities(out, evidence, times)
	slices.SortStableFunc(out, func(a, b piece) int { return evidence[a.at].before(evidence[b.at]) })
	return out, nil
}

// contact is what the tips add to a reading of ohms where the leads add nothing, in ohms.
// Common practice, no source.
const contact = 0.1

// leadsOf is how many ohms the reader's own leads may add to a reading, contacts among them:
// what the lowest of his readings shows, for they add to each.
func leadsOf(evidence []Evidence) float64 {
	lowest := math.Inf(1)
	for _, e := range evidence {
		if e.Quantity.Unit == faulttree.Ohms && !e.Told && e.Reading.Numeric() {
			lowest = min(lowest, e.Reading.High.Float())
		}
	}
	return max(0, lowest) + contact
}

// setWrongDensities sets, for each reading, how often its quantity was read, and its
// density if it went wrong, given the readings before it and beside it.
func setWrongDensities(out []piece, evidence []Evidence, times map[string]float64) {
	for i := range out {
		w := &out[i]
		if w.reading == nil {
			continue
		}
		q := evidence[w.at].Quantity
		w.times = times[q.ID]
		stays := 1.0 // the part of what went wrong that shows the same again
		var earlier *reading
		var besides []*reading
		for j := range out {
			p := evidence[out[j].at].Quantity
			if out[j].reading == nil || p.Unit != q.Unit || j == i {
				continue
			}
			if p.ID == q.ID {
				if w.reading.agrees(out[j].reading) {
					stays = eachError
				}
				continue
			}
			if j < i {
				earlier = out[j].reading
			}
			if sharesContact(q, p) {
				besides = append(besides, out[j].reading)
			}
		}
		w.setWrongDensity(earlier, besides)
		w.ifWrong = w.wrong * w.wrongDensity * stays
	}
}

// subject is the quantity that was read, or what was seen or tried.
func (e Evidence) subject() string {
	switch {
	case e.Seen != nil:
		return "seen " + e.Seen.Observation
	case e.Tried != nil:
		return "tried " + e.Tried.Intervention + " " + e.Tried.Tree
	}
	return e.Quantity.ID
}

// about is what the column of the evidence is of.
func (e Evidence) about() string {
	if e.Seen != nil {
		return e.subject() + " " + e.Seen.Choice
	}
	return e.subject()
}

// before puts evidence in an order of its own, so that a belief does not depend
// on that in which it came.
func (e Evidence) before(o Evidence) int {
	return cmp.Or(strings.Compare(e.subject(), o.subject()), cmp.Compare(e.Reading.Low, o.Reading.Low), cmp.Compare(e.Reading.High, o.Reading.High))
}

// check reports what is malformed about a piece of evidence.
func (e Evidence) check() error {
	kinds := 0
	for _, is := range []bool{e.Quantity.ID != "", e.Seen != nil, e.Tried != nil} {
		if is {
			kinds++
		}
	}
	switch {
	case kinds != 1:
		return fmt.Errorf("it is %d of a reading, something seen, something tried; expected exactly one", kinds)
	case e.Quantity.ID != "" && (e.Quantity.Unit == 0 || int(e.Quantity.Unit) >= len(scales)):
		return fmt.Errorf("%s has no unit", e.Quantity.ID)
	}
	return nil
}

// What goes wrong with a reading does so in equal parts: a missed contact, a
// display still frozen at an earlier reading, the contact beside, and anything
// else, such as another function. One of them, the frozen display, shows the same
// however often it is read. Common practice, no source.
const eachError = 0.25

// setWrongDensity works out the density of the reading if it went wrong. Earlier is
// what a frozen display would show, nil for none; beside is what was read at the
// contacts beside. The part of an error that cannot have happened is given to
// anything else.
func (w *piece) setWrongDensity(earlier *reading, beside []*reading) {
	w.wrongDensity = eachError * w.reading.missedContact()
	anything := eachError
	if earlier != nil {
		w.wrongDensity += eachError * w.reading.showsOther(earlier)
	} else {
		anything += eachError
	}
	for _, b := range beside {
		w.wrongDensity += eachError * w.reading.showsOther(b) / float64(len(beside))
	}
	if len(beside) == 0 {
		anything += eachError
	}
	w.wrongDensity += anything * w.reading.uninformed()
}

// tempered is a likelihood to the power of one over how often the quantity was read:
// all readings of it together count as one, for they share the model's error.
func (w *piece) tempered(likelihood float64) float64 {
	switch w.times {
	case 1:
		return likelihood
	case 2:
		return math.Sqrt(likelihood)
	}
	return math.Pow(likelihood, 1/w.times)
}

// ofDensity is the likelihood where the reading has some density if it did not go wrong.
func (w *piece) ofDensity(density float64) float64 {
	return w.tempered((1-w.wrong)*density + w.ifWrong)
}

// likelihood is that of the evidence in a case; NaN tells nothing.
func (w *piece) likelihood(i int) float64 {
	x := float64(w.column[i])
	switch {
	case math.IsNaN(x):
		return x
	case w.reading == nil:
		if !w.asStated {
			x = 1 - x
		}
		return (1-w.wrong)*x + w.wrong/2
	}
	return w.ofDensity(float64(w.density[i]))
}

// multiply multiplies some numbers by the likelihoods of as many cases from one on.
func (w *piece) multiply(some []float64, from int) {
	if w.reading == nil || w.times > 1 {
		for n := range some {
			some[n] *= w.likelihood(from + n)
		}
		return
	}
	right, density := 1-w.wrong, w.density[from:]
	for n, x := range w.column[from : from+len(some)] {
		if x == x {
			some[n] *= right*float64(density[n]) + w.ifWrong
		} else {
			some[n] = math.NaN()
		}
	}
}

// distance is how far what a case reads is from the evidence, with its sign: in
// steps that can be told apart, their logarithm far from it; 0 where the case tells
// nothing.
func (w *piece) distance(i int) float64 {
	x := float64(w.column[i])
	switch {
	case math.IsNaN(x):
		return 0
	case w.reading == nil:
		return x
	}
	r := w.reading
	value := r.value
	if r.over {
		value = r.top
	}
	return math.Asinh(r.steps(min(x, r.top), r.ohms) - r.steps(value, r.ohms))
}

// bestLikelihood is that in a case that reads just this.
func (w *piece) bestLikelihood() float64 {
	if w.reading == nil {
		return 1 - w.wrong/2
	}
	x := w.reading.value
	if w.reading.over {
		x = math.Inf(1)
	}
	return w.ofDensity(w.reading.in(x))
}

// uninformed is the likelihood of the evidence where nothing is known about the
// vehicle.
func (w *piece) uninformed() float64 {
	if w.reading == nil {
		return 0.5
	}
	return w.tempered(w.reading.uninformed())
}
