package scene

import (
	"fmt"
	"slices"

	"faultwright/faulttree/rig"
)

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
