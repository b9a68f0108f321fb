package scene

import (
	"fmt"
	"math"
	"slices"

	"faultwright/faulttree/rig"
)

// Dial is a number that can be chosen between two ends.
type Dial struct {
	Name            string // a leg, "severity"
	Title           string // in words, for the reader
	Unit            rig.ParamUnit
	From, To, Value float64
	Log             bool // even steps multiply
}

// Share is where the value stands between the ends, 0 to 1.
func (d Dial) Share() float64 {
	switch {
	case d.To <= d.From:
		return 0
	case d.Log && d.From > 0:
		return clamp(math.Log(d.Value/d.From) / math.Log(d.To/d.From))
	}
	return clamp((d.Value - d.From) / (d.To - d.From))
}

// At is the value at a share of the way.
func (d Dial) At(share float64) float64 {
	share = clamp(share)
	if d.Log && d.From > 0 {
		return d.From * math.Pow(d.To/d.From, share)
	}
	return d.From + (d.To-d.From)*share
}

func clamp(share float64) float64 {
	if math.IsNaN(share) {
		return 0
	}
	return min(max(share, 0), 1)
}

// Text is the value with its unit.
func (d Dial) Text() string { return d.Unit.Format(d.Value) }

// Put shows a rig as it was drawn by chance: all its numbers, the loads among
// them, in what it differs from others, and its faults. The first that a scene can show is the one that can be
// chosen and turned, in its place at its severity; the others stay in force
// until another is chosen. A fault that only misleads the meter changes nothing
// that a scene could show, and is left away.
func (s *Scene) Put(setup rig.Setup) error {
	if len(setup.Values) != len(s.rig.Params) {
		return fmt.Errorf("%d numbers for a rig of %d", len(setup.Values), len(s.rig.Params))
	}
	s.base, s.varies = slices.Clone(setup.Values), setup.Varieties
	for i := range s.legs {
		l := &s.legs[i]
		s.turn(l, s.rig.Watts(s.base, l.name))
		l.most = max(l.most, l.watts)
	}
	s.Choose("")
	var also []rig.Applied
	for _, a := range setup.Faults {
		switch {
		case !slices.Contains(Fitting(a.Fault, s.rig), a.Variant):
		case s.fault != nil || !s.Choose(a.Fault.ID):
			also = append(also, a)
		default:
			s.variant, s.severity = slices.Index(s.variants, a.Variant), a.Severity
		}
	}
	s.also = also
	return nil
}
