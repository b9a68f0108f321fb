package drawn

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// How often something is met among the vehicles that somebody measures. Common
// practice, no source.
const (
	shareSound = 0.2  // nothing is wrong
	sharePairs = 0.03 // of the others: two dangerous faults came together by chance
	shareAlong = 0.2  // a fault that brings another along, beside one that comes alone; and one beside what its rig shows by itself
)

// How many draws there are.
const (
	leastDangerous = 300 // of a dangerous fault
	leastOther     = 100 // of another
	leastStratum   = 4
	partSound      = 20 // one in so many is sound
	partPairs      = 12 // one in so many has two faults
)

// class is how many things are wrong.
type class uint8

const (
	sound class = iota
	single
	double
	classes
)

// kind is something that can be wrong: nothing, a fault, or two of them.
type kind struct {
	class  class
	weight float64 // against the others of its class
	draws  int
	in     func(*rig.Rig) [][]Way // the ways in which it can be so in a rig
	strata []stratum
}

// allot lays out about n draws of everything that can be wrong with the rigs, and
// says how often each is met: the rigs by their shares, within a rig the faults by
// the weights of the catalogue, within a fault its variants evenly, but for
// those that bring another fault along. What is drawn
// more often than it is met weighs the less. All together weigh 1.
func allot(rigs []*rig.Rig, faults []*rig.Fault, n int) []stratum {
	kinds := kindsOf(faults)
	met := lists.Sum(rigs, rigWeight)
	for _, r := range rigs {
		var sum [classes]float64
		ways := make([][][]Way, len(kinds))
		for i, k := range kinds {
			if ways[i] = k.in(r); len(ways[i]) > 0 {
				sum[k.class] += k.weight
			}
		}
		shares := classShares(r, sum)
		for i := range kinds {
			k := &kinds[i]
			all := lists.Sum(ways[i], wayWeight)
			for _, w := range ways[i] {
				s := newStratum(r, w, faults)
				s.weight = rigWeight(r) / met * shares[k.class] * k.weight / sum[k.class] * wayWeight(w) / all
				k.strata = append(k.strata, s)
			}
		}
	}
	kinds = slices.DeleteFunc(kinds, func(k kind) bool { return len(k.strata) == 0 })
	giveDraws(kinds, n)
	var out []stratum
	for _, k := range kinds {
		for i, s := range k.strata {
			s.draws = max(leastStratum, (i+1)*k.draws/len(k.strata)-i*k.draws/len(k.strata))
			out = append(out, s)
		}
	}
	return out
}

// wayWeight is how often something goes wrong in one way, against its other ways.
func wayWeight(ways []Way) float64 {
	if slices.ContainsFunc(ways, func(w Way) bool { return len(w.variant().With) > 0 }) {
		return shareAlong
	}
	return 1
}

// rigWeight is how often a rig is met, against the others.
func rigWeight(r *rig.Rig) float64 {
	if r.Share > 0 {
		return r.Share
	}
	return 1
}

// classShares is how often a vehicle of each class is met in a rig, by what can
// happen in it at all. Who measures in a rig that shows something by itself, as 208 V,
// may do so for that alone.
func classShares(r *rig.Rig, sum [classes]float64) [classes]float64 {
	healthy := shareSound
	if len(r.Shows) > 0 {
		healthy = 1 - shareAlong
	}
	switch {
	case sum[single] == 0:
		return [classes]float64{sound: 1}
	case sum[double] == 0:
		return [classes]float64{sound: healthy, single: 1 - healthy}
	}
	return [classes]float64{sound: healthy, single: (1 - healthy) * (1 - sharePairs), double: (1 - healthy) * sharePairs}
}

// giveDraws gives each kind the draws that it is guaranteed, and of those that n
// leaves a part by its weight.
func giveDraws(kinds []kind, n int) {
	var sum [classes]float64
	for _, k := range kinds {
		sum[k.class] += k.weight
	}
	spare := n
	for i := range kinds {
		k := &kinds[i]
		switch k.class {
		case sound:
			k.draws = max(n/partSound, leastDangerous)
		case double:
			k.draws = int(float64(n/partPairs) * k.weight / sum[double])
		}
		spare -= k.draws
	}
	for i := range kinds {
		if k := &kinds[i]; k.class == single && spare > 0 {
			k.draws += int(float64(spare) * k.weight / sum[single])
		}
	}
}

// kindsOf lists all that can be wrong, by the faults in their order.
func kindsOf(faults []*rig.Fault) []kind {
	kinds := []kind{{class: sound, weight: 1, in: func(*rig.Rig) [][]Way { return [][]Way{nil} }}}
	for _, f := range faults {
		if f.Weight <= 0 {
			continue
		}
		k := kind{class: single, weight: f.Weight, draws: leastOther, in: func(r *rig.Rig) [][]Way {
			var out [][]Way
			for _, w := range waysIn(r, f) {
				out = append(out, []Way{w})
			}
			return out
		}}
		if f.Hazard == faulttree.Danger {
			k.draws = leastDangerous
		}
		kinds = append(kinds, k)
	}
	for _, p := range pairsOf(faults) {
		kinds = append(kinds, kind{class: double, weight: p[0].Weight * p[1].Weight, in: p.in})
	}
	return kinds
}

// waysIn lists the ways in which a fault can happen in a rig. A fault of the meter
// is left out: to a belief it is a wrong reading, and no suspect.
func waysIn(r *rig.Rig, f *rig.Fault) []Way {
	var out []Way
	for i, v := range f.Variants {
		if v.Place != faulttree.MeterOwn && v.FitsIn(r) {
			out = append(out, Way{f, i})
		}
	}
	return out
}

// pair is two faults that hide one another, such as a lost ground and a leak.
type pair [2]*rig.Fault

// pairsOf lists pairs of dangerous faults where a variant of the first brings the
// second along. They also come together by chance, each in any of its own ways.
func pairsOf(faults []*rig.Fault) []pair {
	var out []pair
	for _, a := range faults {
		for _, b := range faults {
			along := func(v rig.Variant) bool { return slices.Contains(v.With, b.ID) }
			if a != b && a.Weight > 0 && b.Weight > 0 && a.Hazard == faulttree.Danger && b.Hazard == faulttree.Danger && slices.ContainsFunc(a.Variants, along) {
				out = append(out, pair{a, b})
			}
		}
	}
	return out
}

// in lists how the two meet in a rig: every way of either that brings nothing
// else along, in turn with those of the other.
func (p pair) in(r *rig.Rig) [][]Way {
	var alone [2][]Way
	for k, f := range p {
		for _, w := range waysIn(r, f) {
			if len(w.variant().With) == 0 {
				alone[k] = append(alone[k], w)
			}
		}
	}
	a, b := alone[0], alone[1]
	if len(a) == 0 || len(b) == 0 {
		return nil
	}
	var out [][]Way
	for i := range max(len(a), len(b)) {
		out = append(out, []Way{a[i%len(a)], b[i%len(b)]})
	}
	return out
}
