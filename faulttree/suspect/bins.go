package suspect

import (
	"cmp"
	"math"
	"slices"

	"faultwright/faulttree"
)

// mostBins is how many stretches of a quantity are told apart.
const mostBins = 8

// bins are intervals of what a quantity reads: as fine as meter and model allow to
// tell them apart, OL by itself, and parted by whether they may hurt.
type bins struct {
	meter    faulttree.Meter
	quantity faulttree.Quantity
	all      []*bin
	at       map[stretch]*bin
}

type stretch struct {
	steps float64
	hurts bool
}

type bin struct {
	stretch
	weight float64
	of     []int
}

func newBins(m faulttree.Meter, q faulttree.Quantity) *bins {
	return &bins{meter: m, quantity: q, at: map[stretch]*bin{}}
}

// add puts what case k reads into its bin.
func (b *bins) add(k int, value, weight float64, rules *Rules) {
	if b.quantity.SizeOnly {
		value = math.Abs(value)
	}
	r := b.meter.Display(value, b.quantity)
	s := stretch{math.Inf(1), rules.stops(b.quantity, r, b.meter)}
	if r.Numeric() {
		s.steps = b.steps(r.Low.Float())
	}
	in := b.at[s]
	if in == nil {
		in = &bin{stretch: s}
		b.at[s] = in
		b.all = append(b.all, in)
	}
	in.weight += weight
	in.of = append(in.of, k)
}

// steps is how many steps a value lies from 0: as many as a verdict may rest on,
// but none smaller than what the model knows of the value.
func (b *bins) steps(value float64) float64 {
	byMeter := b.meter.Steps(value, b.quantity.Unit)
	byModel := scales[b.quantity.Unit].steps(value, b.quantity.Unit == faulttree.Ohms)
	if math.Abs(byModel) < math.Abs(byMeter) {
		return math.Trunc(byModel)
	}
	return byMeter
}

// steps is how many steps a value lies from 0, each twice what the model may be
// off there.
func (s scale) steps(value float64, many bool) float64 {
	size, even := math.Abs(value), s.least/s.share // up to there it may be off by the least
	steps := min(size, even) / (2 * s.least)
	top := size
	if many {
		top = min(size, manyOhms)
	}
	if top > even {
		steps += math.Log(top/even) / (2 * s.share)
	}
	if many && size > manyOhms {
		worst := manyOhms * (mostShare / s.share) * (mostShare / s.share)
		steps += (1 - math.Sqrt(manyOhms/min(size, worst))) / s.share
		if size > worst {
			steps += math.Log(size/worst) / (2 * mostShare)
		}
	}
	return math.Copysign(steps, value)
}

// codes numbers the bins from 1, joins the lightest neighbours where they are
// many, and lists those that may hurt.
func (b *bins) codes(cases int) (codes, stops []uint8) {
	slices.SortFunc(b.all, func(x, y *bin) int { return cmp.Compare(x.steps, y.steps) })
	for len(b.all) > mostBins {
		least := -1
		for i := 0; i+1 < len(b.all); i++ {
			x, y := b.all[i], b.all[i+1]
			if x.hurts == y.hurts && !math.IsInf(y.steps, 1) && (least < 0 || x.weight+y.weight < b.all[least].weight+b.all[least+1].weight) {
				least = i
			}
		}
		if least < 0 {
			break
		}
		x, y := b.all[least], b.all[least+1]
		x.weight += y.weight
		x.of = append(x.of, y.of...)
		b.all = slices.Delete(b.all, least+1, least+2)
	}
	codes = make([]uint8, cases)
	for i, in := range b.all {
		for _, k := range in.of {
			codes[k] = uint8(i + 1)
		}
		if in.hurts {
			stops = append(stops, uint8(i+1))
		}
	}
	return codes, stops
}
