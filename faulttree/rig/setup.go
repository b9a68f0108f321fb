package rig

import (
	"math"
	"math/cmplx"
	"math/rand/v2"
	"strings"

	"faultwright/faulttree"
)

// Setup is one vehicle of a rig: its numbers and its faults.
type Setup struct {
	Values []float64 // by parameter; nil means the ordinary ones
	Faults []Applied
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

// State is what is plugged, switched and turned on while something is measured.
type State struct {
	Off   map[string]bool // switches by name: true is off, false is on; the others are in their ordinary position
	Loads map[string]bool // legs whose loads are on; nil means none
}

// Input is the input of a voltmeter.
type Input uint8

const (
	HighImpedance Input = iota // 10 MΩ beside 100 pF
	LowImpedance               // 3 kΩ
)

// Measured is what the probes see.
type Measured struct {
	Value   complex128 // RMS with the meter connected, in V or A, angle zero at source L1 to N; direct values and Ω are real
	Defined bool
	Hazard  bool     // ohms on a live circuit
	Reason  string   // why there is no value, a sentence
	Tripped []string // protective devices that have opened
}

// Number is the value as a meter on a function of this unit takes it: the size
// of what alternates, direct values and ohms as they are, ohms without a way
// for the current infinite. ok is false where there is no value, or a live
// circuit under ohms.
func (m Measured) Number(u faulttree.Unit) (value float64, ok bool) {
	open := u == faulttree.Ohms && cmplx.IsInf(m.Value)
	switch {
	case m.Hazard, !m.Defined && !open:
		return 0, false
	case u.Signed() || u == faulttree.Ohms:
		return real(m.Value), true
	}
	return cmplx.Abs(m.Value), true
}

// group is what a test point belongs to: "pedestal" of "pedestal.l1".
func group(point string) string {
	g, _, _ := strings.Cut(point, ".")
	return g
}

// StateFor says in which state a quantity is read: what is measured at the pedestal
// is measured with nothing plugged in, what is measured on pulled pins with the
// plug out and all loads connected. A battery's loads are read without its
// chargers, the tow connector with the engine running. Legs are those whose
// loads go on.
func StateFor(q faulttree.Quantity, legs []string) State {
	off := map[string]bool{}
	red, black := group(q.Red), group(q.Black)
	unplugged := q.Has(faulttree.Unplugged)
	if unplugged {
		for _, s := range []string{"plug", "adapter", "generator", "inverter", "converter", "engine"} {
			off[s] = true
		}
	}
	clamp := q.Black == ""
	switch {
	case red == "pedestal" && !clamp:
		off["plug"] = true
	case red == "adapter" && !unplugged:
		off["adapter"] = true
	case red == "adapter" && black == "adapter":
		off["adapter"], off["plug"] = true, true
	case red == "cord", red == "inlet", red == "plug" && black == "cord":
		off["inlet"] = true
	}
	if q.Has(faulttree.MainOff) {
		off["main"] = true
	}
	if q.Has(faulttree.Rest) {
		off["converter"], off["engine"] = true, true
	}
	if group(q.Red) == "battery" && q.Unit == faulttree.Ohms || group(q.Red) == "tow" && q.Unit == faulttree.Ohms {
		off["disconnect"] = true
	}
	loads := q.Has(faulttree.Loaded)
	switch {
	case red == "tow" && q.Unit != faulttree.Ohms: // under way
		off["engine"], off["converter"] = false, true
	case (red == "battery" || red == "dc") && loads, q.ID == "amp:battery.neg": // from the battery alone
		off["engine"], off["converter"] = true, true
	}
	st := State{Off: off}
	if loads || q.Unit == faulttree.Ohms && unplugged {
		st.Loads = map[string]bool{}
		for _, leg := range legs {
			st.Loads[leg] = true
		}
	}
	return st
}
