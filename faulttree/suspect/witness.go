package suspect

import (
	"cmp"
	"context"
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
)

// witness is a piece of evidence with what each case says to it.
type witness struct {
	at     int // index into the evidence
	wrong  float64
	column []float32 // what is read, or the probability of what was seen or tried, by case

	reading *reading  // nil for what was seen or tried
	density []float32 // of the reading in each case where nothing went wrong
	slip    float64   // density if it is wrong
	repeats float64   // how often the same was read: the model's error in it counts once
	holds   bool      // the probability counts as it stands; false: the opposite
}

// witnesses makes the evidence of a round ready to be held against a pool. What
// tells nothing is left out.
func (r *Reasoner) witnesses(ctx context.Context, o *pool, evidence []Evidence) ([]witness, error) {
	var out []witness
	var read []faulttree.Quantity
	for i, e := range evidence {
		if err := e.check(); err != nil {
			return nil, fmt.Errorf("evidence %d: %w", i+1, err)
		}
		if e.Seen == nil && e.Tried == nil && e.Reading.Quality != faulttree.NotPossible {
			read = append(read, e.Quantity)
		}
	}
	if err := together(ctx, o.Population, read); err != nil {
		return nil, err
	}
	times := map[string]float64{}
	for i, e := range evidence {
		w := witness{at: i, wrong: r.assumed.wrong(e), repeats: 1}
		var err error
		switch {
		case e.Seen != nil:
			w.holds = true
			w.column, err = o.Seen(ctx, e.Seen.Observation, e.Seen.Choice)
		case e.Tried != nil:
			w.holds = e.Tried.Gone
			w.column, err = o.Gone(ctx, e.Tried.Intervention, e.Tried.Tree)
		case e.Reading.Quality == faulttree.NotPossible:
			continue
		default:
			x := newReading(e.Quantity, e.Reading, r.meter)
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
			w.density = o.densities.of(e.Quantity.ID, w.reading, w.column)
		}
		out = append(out, w)
	}
	for i := range out {
		w := &out[i]
		if w.reading == nil {
			continue
		}
		q := evidence[w.at].Quantity
		w.repeats = times[q.ID]
		var earlier *reading
		var besides []*reading
		for j := range out {
			p := evidence[out[j].at].Quantity
			if out[j].reading == nil || p.Unit != q.Unit {
				continue
			}
			if j < i {
				earlier = out[j].reading
			}
			if beside(q, p) {
				besides = append(besides, out[j].reading)
			}
		}
		w.slipped(earlier, besides)
	}
	slices.SortStableFunc(out, func(a, b witness) int { return evidence[a.at].before(evidence[b.at]) })
	return out, nil
}

// what is what was read, seen or tried.
func (e Evidence) what() string {
	switch {
	case e.Seen != nil:
		return "seen " + e.Seen.Observation
	case e.Tried != nil:
		return "tried " + e.Tried.Intervention + " " + e.Tried.Tree
	}
	return e.Quantity.ID
}

// before puts evidence in an order of its own, so that a belief does not depend
// on that in which it came.
func (e Evidence) before(o Evidence) int {
	return cmp.Or(strings.Compare(e.what(), o.what()), cmp.Compare(e.Reading.Low, o.Reading.Low), cmp.Compare(e.Reading.High, o.Reading.High))
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
// else, such as another function. Common practice, no source.
const eachSlip = 0.25

// slipped works out how likely the reading is if it is wrong. The contact beside
// would show what was read there. What cannot have happened, or of which nothing
// was read, is left to anything else.
func (w *witness) slipped(earlier *reading, beside []*reading) {
	w.slip = eachSlip * w.reading.missed()
	anything := eachSlip
	if earlier != nil {
		w.slip += eachSlip * w.reading.again(earlier)
	} else {
		anything += eachSlip
	}
	for _, b := range beside {
		w.slip += eachSlip * w.reading.again(b) / float64(len(beside))
	}
	if len(beside) == 0 {
		anything += eachSlip
	}
	w.slip += anything * w.reading.broad()
}

// root takes out of a density what it counts too often where a quantity was read
// more than once.
func (w *witness) root(density float64) float64 {
	switch w.repeats {
	case 1:
		return density
	case 2:
		return math.Sqrt(density)
	}
	return math.Pow(density, 1/w.repeats)
}

// in is the likelihood of the evidence in a case; NaN tells nothing.
func (w *witness) in(i int) float64 {
	x := float64(w.column[i])
	switch {
	case math.IsNaN(x):
		return x
	case w.reading == nil:
		if !w.holds {
			x = 1 - x
		}
		return (1-w.wrong)*x + w.wrong/2
	}
	return (1-w.wrong)*w.root(float64(w.density[i])) + w.wrong*w.root(w.slip)
}

// off is how far what a case reads is from the evidence, in steps that can be told
// apart near it and ever larger ones far from it; 0 where the case tells nothing.
func (w *witness) off(i int) float64 {
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
	return math.Asinh(r.steps(min(x, r.top), r.many) - r.steps(value, r.many))
}

// best is the likelihood in a case that reads just this, nothing gone wrong.
func (w *witness) best() float64 {
	if w.reading == nil {
		return 1 - w.wrong/2
	}
	x := w.reading.value
	if w.reading.over {
		x = math.Inf(1)
	}
	return (1-w.wrong)*w.root(w.reading.in(x)) + w.wrong*w.root(w.slip)
}

// anything is the likelihood of the evidence where nothing is known.
func (w *witness) anything() float64 {
	if w.reading == nil {
		return 0.5
	}
	return w.root(w.reading.broad())
}
