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

// allTogether is, by cell, how likely all evidence is, as a share of what it is in
// the likeliest cell of the system.
func (k *tally) allTogether() []float64 {
	o := k.pool
	most := make([]float64, len(o.systems))
	for s := range most {
		most[s] = math.Inf(-1)
	}
	for c, l := range k.cells {
		most[o.systemOf(c)] = max(most[o.systemOf(c)], l)
	}
	out := make([]float64, len(o.cells))
	for c, l := range k.cells {
		if m := most[o.systemOf(c)]; !math.IsInf(m, -1) {
			out[c] = math.Exp(l - m)
		}
	}
	return out
}

// pieceByPiece is, by cell, the product of how much less likely than in a sound
// vehicle each piece of evidence is.
func (k *tally) pieceByPiece() []float64 {
	out := make([]float64, len(k.pool.cells))
	for c := range out {
		out[c] = 1
		for _, l := range k.by {
			if healthy := l.sound[k.pool.systemOf(c)]; healthy > 0 {
				out[c] *= min(1, l.cells[c]/healthy)
			}
		}
	}
	return out
}
