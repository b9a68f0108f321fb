package bench

import (
	"math/cmplx"

	"faultwright/faulttree"
)

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
