package suspect

import (
	"cmp"
	"math"
	"slices"

	"faultwright/faulttree"
)

// mostBins is how many stretches of a quantity are told apart.
const mostBins = 8

// bins are stretches of what a quantity reads, told apart as finely as a verdict
// may rest on them, by OL, and by whether they may hurt.
type bins struct {
	meter    faulttree.Meter
	quantity faulttree.Quantity
	all      []*bin
	at       map[stretch]*bin
}

type stretch struct {
	told  float64
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
	r := shown(value, b.quantity, b.meter)
	s := stretch{math.Inf(1), rules.stops(b.quantity, r, b.meter)}
	if r.Numeric() {
		s.told = b.meter.Told(r.Low.Float(), b.quantity.Unit)
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

// codes numbers the bins from 1, joins the lightest neighbours where they are
// many, and lists those that may hurt.
func (b *bins) codes(cases int) (codes, stops []uint8) {
	slices.SortFunc(b.all, func(x, y *bin) int { return cmp.Compare(x.told, y.told) })
	for len(b.all) > mostBins {
		least := -1
		for i := 0; i+1 < len(b.all); i++ {
			x, y := b.all[i], b.all[i+1]
			if x.hurts == y.hurts && !math.IsInf(y.told, 1) && (least < 0 || x.weight+y.weight < b.all[least].weight+b.all[least+1].weight) {
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
