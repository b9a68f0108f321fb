package suspect

import (
	"context"
	"math"
	"slices"

	"faultwright/faulttree"
)

// mostUnlike is the share of cases in which a reading may differ from one that was taken
// and still be foreseen by it: what they can tell is less than leastBits.
const mostUnlike = 0.005

// wasRead looks up what the cases of the sample have in each reading that was taken.
func (c *chooser) wasRead(ctx context.Context) error {
	c.shown = map[faulttree.Unit][][]float32{}
	for i := range c.pieces {
		e := c.evidence[c.pieces[i].at]
		if c.pieces[i].reading == nil || e.Doubtful {
			continue
		}
		column, err := c.pool.Column(ctx, e.Quantity)
		if err != nil {
			return err
		}
		c.shown[e.Quantity.Unit] = append(c.shown[e.Quantity.Unit], atSample(column, c.sample))
	}
	return nil
}

// foreseen reports whether one of the readings that were taken shows the same as this one
// would in next to every case, as far as meter and model tell values apart: from the
// blade to the body as from the blade to the grounding pin that is tied to it. It tells
// nothing more, although cases that are not near to what was read, and stand in for too few
// that are, differ in both.
func (c *chooser) foreseen(b *bins, column []float32) bool {
	return slices.ContainsFunc(c.shown[b.quantity.Unit], func(read []float32) bool {
		unlike := 0.0
		for k, x := range column {
			if !b.alike(float64(x), float64(read[k])) {
				if unlike += c.weight[k]; unlike > mostUnlike {
					return false
				}
			}
		}
		return true
	})
}

// alike reports whether two values are less than a step apart, or both nothing, or both
// more than the meter shows.
func (b *bins) alike(x, y float64) bool {
	if math.IsNaN(x) || math.IsNaN(y) {
		return math.IsNaN(x) && math.IsNaN(y)
	}
	if b.quantity.SizeOnly {
		x, y = math.Abs(x), math.Abs(y)
	}
	r, s := b.meter.Display(x, b.quantity), b.meter.Display(y, b.quantity)
	if !r.Numeric() || !s.Numeric() {
		return r.Numeric() == s.Numeric()
	}
	return math.Abs(b.steps(x)-b.steps(y)) <= 1
}
