package suspect

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
)

// BadSupply is the likeliest dangerous fault of the supply, with the share of all of them,
// where the readings, whatever they were taken of, give these half and more. What somebody
// came with and tells is no reading, and what nothing read could have shown does not count.
// An error is that of the population.
func (b *Belief) BadSupply() (faulttree.FaultAt, float64, error) {
	if b.withoutStory != nil {
		without, err := b.withoutStory()
		if err != nil {
			return faulttree.FaultAt{}, 0, err
		}
		b = without
	}
	for s := range b.pool.systems {
		if b.systems[s].pieces == 0 {
			continue
		}
		of := b.verdictsOf(s)
		bad := func(f faulttree.FaultAt) bool {
			return f.Place == faulttree.Supply && of[f] != untested && b.reasoner.describe(f.Fault, f.Place).Hazard == faulttree.Danger
		}
		has := func(k kind) bool { return k.system == s && slices.ContainsFunc(k.faults, bad) }
		share := 0.0
		for i, k := range b.pool.kinds {
			if has(k) {
				share += b.kinds[i]
			}
		}
		if share < half {
			continue
		}
		for _, p := range b.parts(has) {
			if bad(p.At) {
				return p.At, share, nil
			}
		}
	}
	return faulttree.FaultAt{}, 0, nil
}

// NoPlug reports whether nothing may be plugged in any more, by what was read of the supply
// ([faulttree.Forest.NoPlug]) or by what all readings make likely ([Belief.BadSupply]). Where
// an error leaves that open, nothing may.
func (b *Belief) NoPlug(f *faulttree.Forest, known faulttree.Known) bool {
	read := lists.Each(b.evidence, func(e Evidence) faulttree.Sample { return faulttree.Sample{Quantity: e.Quantity, Reading: e.Reading} })
	if _, forbids := f.NoPlug(read, b.reasoner.meter, known); forbids {
		return true
	}
	_, share, err := b.BadSupply()
	return err != nil || share > 0
}
