package suspect

import "faultwright/faulttree"

// Belief is how the evidence of one round weighs the cases.
type Belief struct {
	reasoner   *Reasoner
	population Population // that of the reasoner, or one with more draws around the evidence
	evidence   []Evidence // of the round
	round      int
}

// Round is the round that the belief is of.
func (b *Belief) Round() int { return b.round }

// Evidence is what counted: that of the round.
func (b *Belief) Evidence() []Evidence { return b.evidence }

// Cases are those that the belief weighs; [Suspect.Cases] are indices into them.
func (b *Belief) Cases() []Case { return b.population.Cases() }

// Shares is the share of each case within its system.
func (b *Belief) Shares() []float64 { return nil }

// Suspect is all cases after which the same is to be done: the same places and
// the same who repairs.
type Suspect struct {
	System   string
	Faults   []string          // ids, the likeliest first; [NoFault] alone for a sound vehicle
	Places   []faulttree.Place // the likeliest first; none for a sound vehicle
	Parts    []Part            // all faults in it, the likeliest first
	Share    float64           // within its system, of which "none of these" has the rest
	Likely   Likely
	Hazard   faulttree.Signal // the worst of Faults
	Do       string           // the first action for the worst of Faults
	RepairBy string
	Worst    *Misfit // the evidence that fits it worst; nil where none tells anything
	Cases    []int   // the heaviest first, not all
}

// Part is a fault in its place, with its share of the system.
type Part struct {
	At    faulttree.FaultAt
	Title string
	Share float64
}

// Suspects lists the suspects of all systems that the evidence is about, or of
// all systems where it is about none, the likeliest first.
func (b *Belief) Suspects() []Suspect { return nil }

// NoneFits is the probability that the vehicle is unlike any that was drawn, in
// some system that the evidence is about.
func (b *Belief) NoneFits() float64 { return 0 }

// Open is a dangerous fault that is not ruled out.
type Open struct {
	System string
	Fault  string
	Place  faulttree.Place
	Title  string
	Share  float64 // within its system
	Tested bool    // a reading could have shown it; false: nothing so far was a test for it
	Test   string  // what would show it
}

// Open lists the dangerous faults that are not ruled out, the likeliest first:
// those with more than a thousandth, and those that nothing so far could have
// shown.
func (b *Belief) Open() []Open { return nil }

// Expected is what q reads in the vehicles of a suspect; false where they have
// no such thing.
func (b *Belief) Expected(s Suspect, column []float32) (Expected, bool) { return Expected{}, false }
