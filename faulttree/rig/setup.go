package rig

import (
	"math"
	"math/rand/v2"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
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

// StateRule says how a vehicle stands while some quantities are read: which
// switches are off, or on, and whether its loads are connected. The handbook
// lists such rules; those that fit a quantity are in force together, and where
// two speak of one switch the later one counts.
type StateRule struct {
	Text       string                // the state in words
	When       []faulttree.Condition // all of them
	Red, Black []string              // places of the test points, pedestal of pedestal.l1; empty is any
	Of         []string              // symbols of units: V, Ω, A; empty is any
	Off, On    []string              // switches
	Loads      bool                  // the loads are connected
}

// Fits reports whether q is read by the rule.
func (r StateRule) Fits(q faulttree.Quantity) bool {
	for _, c := range r.When {
		if !q.Has(c) {
			return false
		}
	}
	return among(r.Of, q.Unit.Symbol()) && among(r.Red, Group(q.Red)) && among(r.Black, Group(q.Black))
}

// among reports whether a list that leaves something open, or names it, fits.
func among(list []string, name string) bool { return len(list) == 0 || slices.Contains(list, name) }

// Group is the part of the name of a test point or a node before the dot: its
// place.
func Group(point string) string {
	g, _, _ := strings.Cut(point, ".")
	return g
}

// Named lists the indices of the part of this name, or of all parts of the run
// of this name, its couplings included. What a [Set] names may be a run; the
// parts of a run share its numbers.
func (r *Rig) Named(name string) []int {
	var run []int
	for i, p := range r.Parts {
		if p.Name == name {
			return []int{i}
		}
		if p.Run == name {
			run = append(run, i)
		}
	}
	return run
}

// LegWatts are the parameters that hold the watts of the loads on a leg which a
// person can turn on and off, each once.
func (r *Rig) LegWatts(leg string) []int {
	var params []int
	for _, p := range r.Parts {
		i := p.Params[AttrWatts]
		if p.Kind == Load && p.Leg == leg && !p.Always && i != None && !slices.Contains(params, i) {
			params = append(params, i)
		}
	}
	return params
}

// Watts is what the loads on a leg take together at some values of the rig's
// parameters.
func (r *Rig) Watts(values []float64, leg string) float64 {
	return lists.Sum(r.LegWatts(leg), func(i int) float64 { return values[i] })
}

// ShareWatts gives the loads on a leg so many watts together, in the proportion
// that they have among values; where they have none, each the same.
func (r *Rig) ShareWatts(values []float64, leg string, watts float64) {
	params, sum := r.LegWatts(leg), r.Watts(values, leg)
	for _, i := range params {
		if sum > 0 {
			values[i] *= watts / sum
		} else {
			values[i] = watts / float64(len(params))
		}
	}
}

// Shared is what each load on a leg takes, by parameter, where all of them take so
// many watts together, in the proportion of their ordinary watts; where they have
// none, each the same.
func (r *Rig) Shared(leg string, watts float64) map[int]float64 {
	params, sum := r.LegWatts(leg), r.Watts(r.Values(), leg)
	out := make(map[int]float64, len(params))
	for _, i := range params {
		if sum > 0 {
			out[i] = watts * r.Params[i].Value / sum
		} else {
			out[i] = watts / float64(len(params))
		}
	}
	return out
}
