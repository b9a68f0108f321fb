package suspect

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/asking"
)

// What a reading shows that is taken once more.
const (
	sameAgain      = "about the same"
	somethingElse  = "something else"
	onBareMetal    = "tips on bare metal"
	withJawsClosed = "jaws of the clamp closed"
)

// repeats makes a question of every quantity that was read once: read once more it
// shows about the same, or that the first reading went wrong. A reading that many
// others agree with tells nothing then; one that alone carries a suspect tells much.
// What may have reached a danger limit is believed and not asked again.
func (c *chooser) repeats(ctx context.Context) error {
	for i := range c.pieces {
		w := &c.pieces[i]
		e := c.evidence[w.at]
		q := c.rules.forest.Quantities[e.Quantity.ID]
		if w.reading == nil || w.times > 1 || !slices.Contains(c.rules.ids, q.ID) || !c.allowed(q) || c.rules.stops(q, e.Reading, c.reasoner.meter) {
			continue
		}
		question, ok, err := c.gated(ctx, q)
		if err != nil {
			return err
		}
		if !ok {
			continue
		}
		same := c.rightInSample(w)
		other := make([]float32, len(same))
		for k, right := range same {
			other[k] = 1 - right
		}
		c.guess(asked{Next: Next{Quantity: &q, Again: true}, words: []string{sameAgain, somethingElse}}, [][]float32{same, other}, question)
	}
	return nil
}

// rightInSample is the probability that a reading did not go wrong, if it is of the cases
// of the sample.
func (c *chooser) rightInSample(w *piece) []float32 {
	out := make([]float32, len(c.sample))
	var ofKinds []float64
	if c.even {
		ofKinds = c.rightInKinds(w)
	}
	for k, i := range c.sample {
		if c.even {
			out[k] = float32(ofKinds[c.pool.kind[i]])
		} else {
			out[k] = float32(w.rightIn(i))
		}
	}
	return out
}

// rightInKinds is the same by kind, of the system, by this reading alone: where the cases
// of a sample stand for too few that fit all readings, it is chance which of them is near
// to this one. What a kind makes no difference to has what sound vehicles have.
func (c *chooser) rightInKinds(w *piece) []float64 {
	o, cases := c.pool, make([][]int, len(c.pool.kinds))
	for i, kind := range o.kind {
		if o.system(i) == c.system {
			cases[kind] = append(cases[kind], i)
		}
	}
	right := func(cases []int) float64 {
		var m mean
		for _, i := range cases {
			if weight := o.prior[i] * w.likelihood(i); weight > 0 { // not NaN
				m.add(mean{weight * w.rightIn(i), weight})
			}
		}
		return m.of(math.NaN())
	}
	sound := o.sound[c.system]
	inSound, shown := right(sound), newSample(w, o.prior, sound)
	out := make([]float64, len(cases))
	for kind, of := range cases {
		out[kind] = inSound
		if own := right(of); math.Abs(own-inSound) > 0.01 && newSample(w, o.prior, of).differs(shown) {
			out[kind] = own
		}
	}
	return out
}

// forRepeats asks what comes before a reading that is to be read once more for the
// sake of that, where that by itself tells more than what it was to be asked for.
func (c *chooser) forRepeats(ctx context.Context, ranked []asking.Candidate) ([]asking.Candidate, error) {
	for again := range c.asked {
		if !c.asked[again].Again || len(c.look.Questions[again].After) == 0 {
			continue
		}
		alone := c.look
		alone.Depth, alone.Asked = 1, nil
		for q := range c.asked {
			if q != again && !slices.Contains(c.look.Questions[again].After, q) {
				alone.Asked = append(alone.Asked, q)
			}
		}
		of, err := alone.Rank(ctx)
		if err != nil {
			return nil, err
		}
		for _, k := range of {
			same := slices.IndexFunc(ranked, func(o asking.Candidate) bool { return o.Ask == k.Ask })
			if k.For == again && same >= 0 && ranked[same].Bits < k.Bits {
				ranked[same] = k
			}
		}
	}
	return ranked, nil
}

// rightIn is the probability that the reading did not go wrong, if it is of a case;
// NaN tells nothing. The tails of its density are not for readings that come out the
// same again: what lies that far from a case went wrong too, if it is of that case.
// So only the normal density that has the peak and the curvature of the t density
// counts as right.
func (w *piece) rightIn(i int) float64 {
	x := w.reading.value
	if w.reading.over {
		x = math.Inf(1)
	}
	best := w.reading.in(x)
	part := min(1, float64(w.density[i])/best) // (1 + z²/3)^-2
	normal := best * math.Exp(-2*(1/math.Sqrt(part)-1))
	return (1 - w.wrong) * normal / w.likelihood(i)
}

// carried says which suspect rests on the one reading that is to be read once more,
// and what to mind with it.
func (n Next) carried() string {
	q := *n.Quantity
	if n.For != nil {
		q = *n.For
	}
	mind := onBareMetal
	if q.Unit == faulttree.AmpsAC || q.Unit == faulttree.AmpsDC {
		mind = withJawsClosed
	}
	carries := n.Apart.One
	if n.Apart.Other.Shows == sameAgain {
		carries = n.Apart.Other
	}
	return "one reading carries " + carries.named() + "; read it once more, " + mind
}
