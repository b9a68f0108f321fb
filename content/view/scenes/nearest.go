package scenes

import (
	"cmp"
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/suspect"
	"faultwright/faulttree/why"
)

// nearest lists the rigs that can have the fault and stand nearest to some facts, a
// fact that comes first in the handbook before others, then by whether the fault can
// be where it is wanted; by id.
func (r *Reasoning) nearest(facts map[string]string, want Wanted) []*rig.Rig {
	rigs := slices.Clone(want.Rigs)
	if len(rigs) == 0 {
		rigs = view.Rigs(r.lib)
	}
	slices.SortFunc(rigs, func(a, b *rig.Rig) int { return strings.Compare(a.ID, b.ID) })
	var out []*rig.Rig
	var least []float64
	for _, on := range rigs {
		distance, can := r.distance(facts, want, on)
		if !can {
			continue
		}
		switch order := slices.Compare(distance, least); {
		case len(out) == 0 || order < 0:
			out, least = []*rig.Rig{on}, distance
		case order == 0:
			out = append(out, on)
		}
	}
	return out
}

// distance is how far a rig is from what is wanted, what counts most first; can is false
// where it cannot have the fault.
func (r *Reasoning) distance(facts map[string]string, want Wanted, on *rig.Rig) (out []float64, can bool) {
	for _, f := range r.lib.Forest.Facts {
		out = append(out, choiceDistance(f, facts[f.ID], on.Facts[f.ID]))
	}
	elsewhere := 1.0
	for _, id := range want.Faults {
		f := r.fault(id)
		if f == nil {
			continue
		}
		for _, v := range want.variants(f, on) {
			can = true
			if want.places(f.Variants[v].Place) {
				elsewhere = 0
			}
		}
	}
	return append(out, elsewhere), can
}

// choiceDistance is how far two choices of a fact stand apart in its list, 0 where one of
// them is not known.
func choiceDistance(f faulttree.Fact, one, other string) float64 {
	at := func(id string) int {
		return slices.IndexFunc(f.Choices, func(c faulttree.Choice) bool { return c.ID == id })
	}
	if at(one) < 0 || at(other) < 0 {
		return 0
	}
	return math.Abs(float64(at(one) - at(other)))
}

// likeliest lists the heaviest case of each way of what is wanted that a belief holds
// likely, in one of some rigs, in a system that something was read of, if in any. The
// likeliest way comes first.
func likeliest(b *suspect.Belief, want Wanted, rigs []*rig.Rig) []way {
	told := map[string]bool{}
	for _, s := range b.Systems() {
		told[s.Name] = s.Pieces > 0
	}
	at := map[string]int{}
	var ways []way
	for i, c := range b.Cases() {
		k := slices.IndexFunc(c.Faults, func(f suspect.PlacedFault) bool { return f.Variant >= 0 && slices.Contains(want.Faults, f.Fault) })
		if k < 0 || !slices.ContainsFunc(rigs, func(on *rig.Rig) bool { return on.ID == c.Rig }) {
			continue
		}
		name := c.Rig
		for _, f := range c.Faults {
			name += fmt.Sprint(" ", f.Fault, f.Variant)
		}
		n, met := at[name]
		if !met {
			n = len(ways)
			at[name] = n
			ways = append(ways, way{told: told[c.System], placed: want.places(c.Faults[k].Place), heaviest: i, faults: len(c.Faults)})
		}
		share := b.Shares()[i]
		ways[n].share += share
		if share > b.Shares()[ways[n].heaviest] {
			ways[n].heaviest = i
		}
	}
	slices.SortStableFunc(ways, func(x, y way) int {
		return cmp.Or(cmp.Compare(asInt(y.told), asInt(x.told)), cmp.Compare(asInt(y.placed), asInt(x.placed)), cmp.Compare(y.share, x.share))
	})
	for i, w := range ways {
		if i == mostWays || w.told != ways[0].told || w.placed != ways[0].placed || w.share*stillLikely < ways[0].share {
			return ways[:i]
		}
	}
	return ways
}

// way is the cases of a rig in which the same is wrong in the same way.
type way struct {
	told     bool // something was read of its system
	placed   bool // the fault is where it is wanted
	heaviest int  // of its cases
	faults   int
	share    float64 // of all its cases
}

// Ways whose shares lie no farther apart than this chance alone may have put in
// another order, for few cases of each fit closely. So many of them are looked at.
const (
	stillLikely = 20
	mostWays    = 5
)

func asInt(is bool) int {
	if is {
		return 1
	}
	return 0
}

// nearest brings the heaviest case of each of some ways to the readings of a belief,
// and returns the one that comes nearest; of those that come as near, that with the
// fewest faults, then the likeliest.
func (w *fitter) nearest(ways []way) (on *rig.Rig, setup rig.Setup, err error) {
	least := math.Inf(1)
	for _, one := range ways {
		r, begin := w.vehicles.Vehicle(one.heaviest)
		fitted, off, err := why.Fit(r, begin, w.read)
		if err != nil {
			return nil, setup, err
		}
		if off = max(off, nearEnough) + float64(one.faults) - math.Log10(max(one.share, 1e-9)); off < least {
			on, setup, least = r, fitted, off
		}
	}
	return on, setup, nil
}

// nearEnough is how far from the readings a vehicle may stay for the errors of meter
// and model to explain it; what is nearer counts as equal.
const nearEnough = 2.0

// fitter brings drawn vehicles to readings.
type fitter struct {
	vehicles vehicles
	read     []why.Reading
}

// vehicles is a population whose cases can be put on a bench.
type vehicles interface {
	Vehicle(i int) (*rig.Rig, rig.Setup)
}
