package suspect

import (
	"slices"

	"faultwright/faulttree"
)

// Belief is the share of each case, given the evidence of one round. It does not
// change.
type Belief struct {
	reasoner *Reasoner
	pool     *pool // that of the reasoner, or one with more draws around the evidence
	round    int
	evidence []Evidence // of the round
	pieces   []piece    // of the evidence that tells anything
	systems  []systemBelief
	share    []float64          // of each case, within its system
	kinds    []float64          // share of each kind
	verdicts func() []verdict   // by kind, worked out once somebody asks
	evened   []func() []float64 // by system, the shares evened; the same

	// Of the same evidence without what somebody came with and tells; nil where there is none.
	withoutStory func() (*Belief, error)
}

// Round is the round that the belief is of.
func (b *Belief) Round() int { return b.round }

// Evidence is what counted: that of the round.
func (b *Belief) Evidence() []Evidence { return b.evidence }

// Cases are those that the belief weighs; [Suspect.Cases] are indices into them.
func (b *Belief) Cases() []Case { return b.pool.cases }

// Population is what the belief weighs: that of the reasoner, or one with more
// draws around the evidence.
func (b *Belief) Population() Population { return b.pool.Population }

// Shares is the posterior probability of each case within its system. Nobody writes
// to it.
func (b *Belief) Shares() []float64 { return b.share }

// System is what the evidence says of a system as a whole.
type System struct {
	Name     string
	Pieces   int     // pieces of evidence that are about it
	NoneFits float64 // the share of vehicles unlike any that was drawn
}

// Systems lists the systems of the population.
func (b *Belief) Systems() []System {
	var out []System
	for i, s := range b.systems {
		out = append(out, System{b.pool.systems[i], s.pieces, s.none})
	}
	return out
}

// NoneFits is the probability that the vehicle is unlike any that was drawn, in
// some system that the evidence is about.
func (b *Belief) NoneFits() float64 {
	fits := 1.0
	for i, s := range b.systems {
		if b.counts(i) {
			fits *= 1 - s.none
		}
	}
	return 1 - fits
}

// counts reports whether the evidence is about a system, or about none at all.
func (b *Belief) counts(system int) bool {
	return b.systems[system].pieces > 0 || len(b.pieces) == 0
}

// Open is a dangerous fault that is not ruled out.
type Open struct {
	System string
	Fault  string
	Place  faulttree.Place
	Title  string
	Share  float64 // within its system
	Tested bool    // something so far was a test for it; false: nothing read could have shown it
	Test   string  // what would show it
}

// stillOpen is the share beyond which a dangerous fault stays open even where a
// reading speaks against it.
const stillOpen = 0.001

// Open lists the dangerous faults of all systems that are not ruled out, the
// likeliest first: those with more than a thousandth, and those that nothing so
// far could have shown. What somebody came with and tells is no test for any, and rules
// none out.
func (b *Belief) Open() []Open {
	if b.withoutStory == nil {
		return b.open(nil, false)
	}
	without, err := b.withoutStory()
	if err != nil {
		return b.open(nil, true) // what cannot be ruled out is open
	}
	return b.open(without.open(nil, false), false)
}

// open lists the dangers that are not ruled out, and those that are open without
// what somebody tells; or all.
func (b *Belief) open(without []Open, all bool) []Open {
	var out []Open
	for s, name := range b.pool.systems {
		of := b.verdictsOf(s)
		for _, p := range b.parts(func(k kind) bool { return k.system == s }) {
			d := b.reasoner.describe(p.At.Fault, p.At.Place)
			if d.Hazard != faulttree.Danger {
				continue
			}
			one := Open{name, p.At.Fault, p.At.Place, d.Title, p.Share, of[p.At] != untested, d.Test}
			i := slices.IndexFunc(without, func(o Open) bool { return o.System == name && o.Fault == one.Fault && o.Place == one.Place })
			if i >= 0 {
				one.Tested = without[i].Tested
			}
			if all || i >= 0 || p.Share > stillOpen || of[p.At] != against {
				out = append(out, one)
			}
		}
	}
	sortByShare(out, func(o Open) float64 { return o.Share })
	return out
}

// verdictsOf is what the evidence is to each fault of a system. It speaks against
// one only where it does so whatever else is wrong beside it.
func (b *Belief) verdictsOf(system int) map[faulttree.FaultAt]verdict {
	verdicts := b.verdicts()
	out := map[faulttree.FaultAt]verdict{}
	for i, k := range b.pool.kinds {
		if k.system != system {
			continue
		}
		for _, f := range k.faults {
			if had, met := out[f]; met {
				out[f] = had.or(verdicts[i])
			} else {
				out[f] = verdicts[i]
			}
		}
	}
	return out
}
