package rig

import (
	"math"
	"math/rand/v2"
)

// Setup is one vehicle of a rig: its numbers, its faults and in what it differs.
type Setup struct {
	Values    []float64 // by parameter; nil means the ordinary ones
	Faults    []Applied
	Varieties uint64 // bit i is that of Varieties[i] of the rig
}

// DrawVarieties takes each variety by its share.
func (r *Rig) DrawVarieties(rng *rand.Rand) (has uint64) {
	for i, v := range r.Varieties {
		if rng.Float64() < v.Share {
			has |= 1 << i
		}
	}
	return has
}

// Draw takes a value of every parameter out of its range.
func (r *Rig) Draw(rng *rand.Rand) []float64 {
	values := make([]float64, len(r.Params))
	for i := range r.Params {
		values[i] = r.Params[i].At(rng.Float64())
	}
	return values
}

// At is the value a share of the way from From to To, 0 to 1.
func (p *Param) At(share float64) float64 {
	switch {
	case p.From == p.To:
		return p.Value
	case p.Log && p.From > 0:
		return p.From * math.Pow(p.To/p.From, share)
	}
	return p.From + (p.To-p.From)*share
}
