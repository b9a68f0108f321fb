package suspect

import (
	"context"

	"faultwright/faulttree"
)

// Reasoner weighs evidence over a population. Any number of goroutines may
// share one.
type Reasoner struct {
	population Population
	meter      faulttree.Meter
	describe   Describe
}

// New is a reasoner over a population, for readings of a meter.
func New(p Population, m faulttree.Meter, d Describe) *Reasoner {
	return &Reasoner{population: p, meter: m, describe: d}
}

// Belief is what the evidence says, in any order; taking a reading back is
// leaving it out. A belief is of one round, for after a repair the vehicle is
// another: evidence of earlier rounds than the last one among it is set aside.
// The order matters for one thing alone: a display that may have been frozen
// shows the last reading in the same unit. An error is what the population
// returns, or says which evidence is malformed.
func (r *Reasoner) Belief(ctx context.Context, evidence []Evidence) (*Belief, error) {
	return &Belief{reasoner: r, population: r.population, evidence: evidence}, nil
}
