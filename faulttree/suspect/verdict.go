package suspect

import (
	"cmp"
	"maps"
	"math"
	"slices"
	"sync"
)

// strongEvidence is how much less likely a fault has to make the evidence than a sound
// vehicle does, for the evidence to speak against it, or the other way round.
// Common practice, no source.
const strongEvidence = 0.01

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
func (k *weighing) verdicts(b *Belief) []verdict {
	o := k.pool
	shown, joint := k.productOfPieces(), k.joint()
	healthy := o.soundMeans(joint)
	out := make([]verdict, len(o.kinds))
	first := make([]bool, len(o.kinds))
	for c := range o.cells {
		n, s := o.cells[c].kind, o.systemOf(c)
		v := untested
		switch {
		case b.systems[s].pieces == 0:
		case shown[c] < strongEvidence && joint[c] < strongEvidence*healthy[s]:
			v = against
		case healthy[s] < strongEvidence*joint[c]:
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

// joint is, by cell, the likelihood of all evidence beside that of the likeliest cell
// of the system, allowing for its variance.
func (k *weighing) joint() []float64 {
	o := k.pool
	likeliest := make([]logWeight, len(o.systems))
	for s := range likeliest {
		likeliest[s].log = math.Inf(-1)
	}
	for c, l := range k.logCells {
		if s := o.systemOf(c); l > likeliest[s].log {
			likeliest[s] = logWeight{l, k.variance[c]}
		}
	}
	out := make([]float64, len(o.cells))
	for c, l := range k.logCells {
		out[c] = logWeight{l, k.variance[c]}.relativeTo(likeliest[o.systemOf(c)])
	}
	return out
}

// weakEvidence is how much less likely than in a sound vehicle a piece of evidence
// may be and still not count as a test: small differences by the chance of the draw
// would else add up to one over many pieces.
const weakEvidence = 0.5

// productOfPieces is, by cell, the product of how much less likely than in a sound
// vehicle each piece of evidence by itself is in that case of the cell which it fits
// best: what reads as sound in one way of being so is not ruled out. A piece that the
// fault makes no difference to does not count: loads that hardly any vehicle has are
// no evidence against a fault of which fewer vehicles were drawn than sound ones.
func (k *weighing) productOfPieces() []float64 {
	o := k.pool
	out := make([]float64, len(o.cells))
	for c := range out {
		s := o.systemOf(c)
		against := map[int]float64{} // how much less likely, by piece
		for j, l := range k.likelihoods {
			if less := l.most[c] / l.sound[s]; l.sound[s] > 0 && less < weakEvidence {
				against[j] = less
			}
		}
		strongest := slices.SortedFunc(maps.Keys(against), func(i, j int) int { return cmp.Or(cmp.Compare(against[i], against[j]), cmp.Compare(i, j)) })
		out[c] = 1
		for _, j := range strongest {
			if out[c] < strongEvidence {
				break
			}
			if w := &k.likelihoods[j].same[0]; o.tells.of(o, k.evidence[w.at].about(), w, c) {
				out[c] *= against[j]
			}
		}
	}
	return out
}

// tells keeps, by what evidence is about, in which cells that differs from sound vehicles:
// it is the same whatever was read. Any number of goroutines may ask it.
type tells struct {
	lock  sync.Mutex
	sound map[soundly]sample
	known map[string][]differs
}

// soundly is what some evidence is about, in the sound vehicles of a system.
type soundly struct {
	about  string
	system int
}

// differs is whether something does, once it was looked at.
type differs struct{ known, is bool }

// of reports whether what a piece of evidence is about differs in a cell.
func (t *tells) of(o *pool, about string, w *piece, cell int) bool {
	t.lock.Lock()
	defer t.lock.Unlock()
	if t.known == nil {
		t.sound, t.known = map[soundly]sample{}, map[string][]differs{}
	}
	in := t.known[about]
	if in == nil {
		in = make([]differs, len(o.cells))
		t.known[about] = in
	}
	if !in[cell].known {
		at := soundly{about, o.systemOf(cell)}
		sound, made := t.sound[at]
		if !made {
			sound = newSample(w, o.prior, o.sound[at.system])
			t.sound[at] = sound
		}
		in[cell] = differs{true, newSample(w, o.prior, o.cells[cell].cases).differs(sound)}
	}
	return in[cell].is
}

// forget lets go of the samples.
func (t *tells) forget() {
	t.lock.Lock()
	defer t.lock.Unlock()
	t.sound, t.known = nil, nil
}
