package suspect

import (
	"cmp"
	"math"
	"slices"

	"faultwright/faulttree"
)

// Misfit is how far a piece of evidence is from what a suspect would show.
type Misfit struct {
	Evidence Evidence
	Expected Expected // of a reading; the zero value for what was seen or tried
	Fit      float64  // 1 as well as anything could, near 0 not at all
}

// Expected is what a quantity reads in most vehicles of a suspect, without the
// meter's error: in the base unit of the quantity, +Inf is OL.
type Expected struct {
	Low, Middle, High float64 // nine tenths of them lie from Low to High
}

// Show words it: "118.4 V", "54 V to 63 V", "5.2 Ω to OL".
func (e Expected) Show(q faulttree.Quantity, m faulttree.Meter) string {
	low, high := m.About(e.Low, q), m.About(e.High, q)
	if low == high {
		return low
	}
	return low + " to " + high
}

// Expected is what a column of the belief's population reads in the vehicles of
// a suspect; false where they have no such thing.
func (b *Belief) Expected(s Suspect, column []float32) (Expected, bool) {
	type weighed struct{ x, w float64 }
	var all []weighed
	sum := 0.0
	for i, x := range column {
		if w := b.share[i]; w > 0 && slices.Contains(s.tasks, b.pool.task(i)) && x == x {
			all = append(all, weighed{float64(x), w})
			sum += w
		}
	}
	if sum == 0 {
		return Expected{}, false
	}
	slices.SortFunc(all, func(a, b weighed) int { return cmp.Compare(a.x, b.x) })
	var out [3]float64
	held, next := 0.0, 0
	for _, c := range all {
		held += c.w
		for next < len(out) && held >= [...]float64{0.05, 0.5, 0.95}[next]*sum {
			out[next] = c.x
			next++
		}
	}
	for ; next < len(out); next++ {
		out[next] = all[len(all)-1].x
	}
	return Expected{out[0], out[1], out[2]}, true
}

// Against puts each piece of evidence beside what a suspect would show, in the order
// of the evidence; nil for what is no reading, tells nothing, or is of a thing that
// the vehicles of the suspect do not have.
func (b *Belief) Against(s Suspect) []*Misfit {
	out := make([]*Misfit, len(b.evidence))
	for i := range b.pieces {
		w := &b.pieces[i]
		if w.reading == nil {
			continue
		}
		if expected, has := b.Expected(s, w.column); has {
			out[w.at] = &Misfit{Evidence: b.evidence[w.at], Expected: expected, Fit: b.fit(s.Cases, w)}
		}
	}
	return out
}

// worst is the evidence that fits the heaviest cases of a task worst.
func (b *Belief) worst(task int, heaviest []int) *Misfit {
	if len(b.pieces) == 0 {
		return nil
	}
	worst, least := 0, math.Inf(1)
	for n := range b.pieces {
		if fit := b.fit(heaviest, &b.pieces[n]); fit < least {
			worst, least = n, fit
		}
	}
	w := &b.pieces[worst]
	out := &Misfit{Evidence: b.evidence[w.at], Fit: least}
	if w.reading != nil {
		out.Expected, _ = b.Expected(Suspect{tasks: []int{task}}, w.column)
	}
	return out
}

// fit is how well a piece of evidence fits the heaviest cases of a suspect, 1
// where it tells nothing about them.
func (b *Belief) fit(heaviest []int, w *piece) float64 {
	var m mean
	for _, i := range heaviest {
		if l := w.likelihood(i); l == l {
			m.add(mean{b.share[i] * l, b.share[i]})
		}
	}
	best := w.bestLikelihood()
	return min(1, m.of(best)/best)
}
