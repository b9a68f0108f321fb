package scene

import (
	"fmt"
	"slices"

	"faultwright/faulttree/rig"
)

// Put shows a rig as it was drawn by chance: all its numbers, the loads among
// them, and its fault in its place at its severity. A fault that only misleads
// the meter changes nothing that a scene could show, and is left away. Of
// several faults the first is shown.
func (s *Scene) Put(setup rig.Setup) error {
	if len(setup.Values) != len(s.rig.Params) {
		return fmt.Errorf("%d numbers for a rig of %d", len(setup.Values), len(s.rig.Params))
	}
	s.base = slices.Clone(setup.Values)
	for i := range s.legs {
		l := &s.legs[i]
		s.turn(l, s.rig.Watts(s.base, l.name))
		l.most = max(l.most, l.watts)
	}
	s.Choose("")
	if len(setup.Faults) == 0 {
		return nil
	}
	a := setup.Faults[0]
	if !s.Choose(a.Fault.ID) {
		return nil
	}
	at := slices.Index(s.variants, a.Variant)
	if at < 0 {
		s.Choose("")
		return nil
	}
	s.variant, s.severity = at, a.Severity
	return nil
}
