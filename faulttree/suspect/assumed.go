package suspect

import (
	"math"

	"faultwright/faulttree"
)

// Assumed is what the reasoning takes for granted about people, meters and its
// own model. All of it is common practice, no source.
type Assumed struct {
	Wrong     float64 // chance that a reading is wrong: a missed contact, a frozen display, the contact beside, another function
	WrongTold float64 // the same where somebody else read it
	Doubtful  float64 // the same where whoever gave it is not sure
	NoneFits  float64 // prior probability that a vehicle is unlike any that is drawn
	More      int     // further draws of each stratum where few cases fit; 0 draws none
	Near      int     // cases of a cell that have to fit the readings given which another is weighed, if more than is usual
}

// CommonPractice is what [New] assumes.
func CommonPractice() Assumed {
	return Assumed{Wrong: 0.02, WrongTold: 0.10, Doubtful: 0.20, NoneFits: 0.01, More: 250}
}

// wrong is the chance that a piece of evidence is wrong.
func (a Assumed) wrong(e Evidence) float64 {
	right := 1 - a.Wrong
	if e.Told {
		right = min(right, 1-a.WrongTold)
	}
	if e.Doubtful {
		right = min(right, 1-a.Doubtful)
	}
	return 1 - right
}

// scale is how closely the model knows a quantity of some unit, and how far such
// quantities reach.
type scale struct {
	share float64 // of the value that the model may be off
	least float64 // and at least this
	reach float64 // of whatever a meter used wrongly shows
	log   bool    // reaches over decades
	ol    float64 // chance that a meter used wrongly shows OL
}

var scales = [...]scale{
	faulttree.VoltsAC: {share: 0.03, least: 0.5, reach: 250, ol: 0.02},
	faulttree.VoltsDC: {share: 0.01, least: 0.05, reach: 30, ol: 0.02},
	faulttree.Ohms:    {share: 0.03, least: 0.5, reach: 60e6, log: true, ol: 0.3}, // leads that nobody nulled add up to half an ohm
	faulttree.AmpsAC:  {share: 0.05, least: 0.1, reach: 100, log: true, ol: 0.02},
	faulttree.AmpsDC:  {share: 0.05, least: 0.05, reach: 200, log: true, ol: 0.02},
}

// uniform is the density of a reading where nothing is known about the vehicle: even
// over the reach, or even in the logarithm.
func (s scale) uniform(reading float64) float64 {
	if s.log {
		return (1 - s.ol) / ((math.Abs(reading) + s.least) * math.Log(1+s.reach/s.least))
	}
	return (1 - s.ol) / s.reach
}

// manyOhms is where the model begins to know a resistance less and less closely:
// insulation and moisture are known to a third.
const (
	manyOhms  = 1000.0
	mostShare = 0.3
)

// squareShare is the square of the share of so many ohms that the model may be
// off.
func (s scale) squareShare(ohms float64) float64 {
	return min(mostShare*mostShare, s.share*s.share*ohms/manyOhms)
}
