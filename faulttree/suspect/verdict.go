package suspect

import "math"

// aTest is how much less likely a fault has to make the evidence than a sound
// vehicle does, for the evidence to speak against it, or the other way round.
// Common practice, no source.
const aTest = 0.01

// verdict is what the evidence says of a fault beside a sound vehicle.
type verdict uint8

const (
	untested verdict = iota // about as likely in both: nothing read could have shown it
	against
	inFavour
)

// verdicts says by kind what the evidence is to it. It speaks against a cell only
// where it is clearly less likely than in a sound vehicle both taken piece by
// piece and all together, and against a kind only where it does so however bad the
// fault is: one that is too mild to show, or that nothing read could have shown,
// stays untested, however well another fault explains the readings.
func (k *tally) verdicts(b *Belief) []verdict {
	o := k.pool
	shown, joint := k.pieceByPiece(), k.allTogether()
	healthy := o.sound(joint)
	out := make([]verdict, len(o.kinds))
	first := make([]bool, len(o.kinds))
	for c := range o.cells {
		n, s := o.cells[c].kind, o.systemOf(c)
		v := untested
		switch {
		case b.systems[s].told == 0:
		case shown[c] < aTest && joint[c] < aTest*healthy[s]:
			v = against
		case healthy[s] < aTest*joint[c]:
			v = inFavour
		}
		if !first[n] {
			first[n], out[n] = true, v
		} else {
			out[n] = out[n].or(v)
		}
	}
	return out
}

// or is the verdict on a fault that is one thing or another: against it only where
// both are.
func (v verdict) or(w verdict) verdict {
	switch {
	case v == inFavour || w == inFavour:
		return inFavour
	case v == untested || w == untested:
		return untested
	}
	return against
}

// allTogether is, by cell, how likely all evidence is beside the likeliest cell of the
// system, doubtful as it is where few cases fit.
func (k *tally) allTogether() []float64 {
	o := k.pool
	likeliest := make([]weighed, len(o.systems))
	for s := range likeliest {
		likeliest[s].log = math.Inf(-1)
	}
	for c, l := range k.cells {
		if s := o.systemOf(c); l > likeliest[s].log {
			likeliest[s] = weighed{l, k.doubt[c]}
		}
	}
	out := make([]float64, len(o.cells))
	for c, l := range k.cells {
		out[c] = weighed{l, k.doubt[c]}.beside(likeliest[o.systemOf(c)])
	}
	return out
}

// saysNothing is how much less likely than in a sound vehicle a piece of evidence may
// be and still say nothing: with many of them, small differences of what was drawn
// would add up to a test.
const saysNothing = 0.5

// pieceByPiece is, by cell, the product of how much less likely than in a sound
// vehicle each piece of evidence is.
func (k *tally) pieceByPiece() []float64 {
	out := make([]float64, len(k.pool.cells))
	for c := range out {
		out[c] = 1
		for _, l := range k.by {
			healthy := l.sound[k.pool.systemOf(c)]
			if less := l.cells[c] / healthy; healthy > 0 && less < saysNothing {
				out[c] *= less
			}
		}
	}
	return out
}
