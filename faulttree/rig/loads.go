package rig

import "slices"

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
	sum := 0.0
	for _, i := range r.LegWatts(leg) {
		sum += values[i]
	}
	return sum
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
