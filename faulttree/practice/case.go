package practice

import (
	"errors"
	"fmt"
	"math"
	"slices"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/rig"
)

// NoFault is what a learner names who finds nothing wrong.
const NoFault = "no-fault"

// Case is a vehicle to practise on. Make one with [NewCase].
type Case struct {
	ID        string
	Rig       *rig.Rig
	Values    []float64                // of the rig's parameters
	Faults    []rig.Applied            // in force, those of the meter among them
	Loads     map[string]bool          // legs that are on at first
	May       []string                 // switches that may be thrown
	Tries     []faulttree.Intervention // what may be tried beside; see [Case.MayTry]
	Catalogue []*rig.Fault             // says what each fault does that comes along with one in force
	// RepairBy says who repairs a fault in its place, "" where that is not said. Who is called
	// to a place mends there what is for the same person to mend, whatever name it was given.
	// Nil: only what was named is mended.
	RepairBy func(faulttree.FaultAt) string
}

// NewCase is a case of a rig with ordinary numbers and no loads on.
func NewCase(id string, r *rig.Rig) Case {
	return Case{ID: id, Rig: r, Values: r.Values(), Loads: map[string]bool{}}
}

// SetLoad turns on the loads of a leg, so many watts together; 0 leaves them
// off. Several loads of a leg share the watts as they did before.
func (c *Case) SetLoad(leg string, watts float64) error {
	if !slices.Contains(c.Rig.Legs(), leg) {
		return fmt.Errorf("the rig %s has no loads on %q", c.Rig.ID, leg)
	}
	if math.IsNaN(watts) || math.IsInf(watts, 0) {
		return fmt.Errorf("loads of %v W are none", watts)
	}
	delete(c.Loads, leg)
	if watts <= 0 {
		return nil
	}
	c.Rig.ShareWatts(c.Values, leg, watts)
	c.Loads[leg] = true
	return nil
}

// check reports what is wrong with the case as a vehicle of its rig.
func (c Case) check() error {
	if c.Rig == nil {
		return errors.New("the case has no rig")
	}
	finite := func(x float64) bool { return !math.IsNaN(x) && !math.IsInf(x, 0) }
	if len(c.Values) != len(c.Rig.Params) || slices.ContainsFunc(c.Values, func(x float64) bool { return !finite(x) }) {
		return fmt.Errorf("the case %s does not have the %d numbers of the rig %s", c.ID, len(c.Rig.Params), c.Rig.ID)
	}
	for _, a := range c.Faults {
		if a.Fault == nil || a.Variant < 0 || a.Variant >= len(a.Fault.Variants) || !finite(a.Severity) || !a.Fault.Variants[a.Variant].FitsIn(c.Rig) {
			return fmt.Errorf("the case %s has a fault that the rig %s cannot have", c.ID, c.Rig.ID)
		}
	}
	return nil
}

// Truth lists what there is to find, what comes along with a fault among it,
// without repeats; a sound case has [NoFault].
func (c Case) Truth() []string {
	var ids []string
	for _, a := range c.Faults {
		for _, id := range a.IDs() {
			ids = lists.With(ids, id)
		}
	}
	if len(ids) == 0 {
		return []string{NoFault}
	}
	return ids
}

// ofMeter reports whether a fault is the meter's alone.
func ofMeter(a rig.Applied) bool {
	if a.Variant < 0 || a.Variant >= len(a.Fault.Variants) {
		return false
	}
	edits := a.Fault.Variants[a.Variant].Edits
	return len(edits) > 0 && !slices.ContainsFunc(edits, func(e rig.Edit) bool { return e.Kind != rig.Misuse })
}

// MeterFault finds, among the faults of a catalogue, the one that is a mistake
// with the meter.
func MeterFault(catalogue []*rig.Fault, m rig.Mistake) (rig.Applied, bool) {
	for _, f := range catalogue {
		for i, v := range f.Variants {
			a := f.Ordinary(i)
			if ofMeter(a) && slices.ContainsFunc(v.Edits, func(e rig.Edit) bool { return e.Mistake == m }) {
				return a, true
			}
		}
	}
	return rig.Applied{}, false
}

// group is what a test point belongs to: "pedestal" of "pedestal.l1".
func group(point string) string {
	g, _, _ := strings.Cut(point, ".")
	return g
}

// coveredBy is the switch that must be off for the tips to get at a point; false
// where there is none. What a plug hides is got at from the ground.
func (c Case) coveredBy(point string) (rig.Switch, bool) {
	return lists.Find(c.Rig.Switches, func(s rig.Switch) bool { return slices.Contains(s.Covers, group(point)) })
}

// Use gives the case the numbers and faults of a setup. Legs whose loads have
// watts are on.
func (c *Case) Use(s rig.Setup) {
	if s.Values != nil {
		c.Values = slices.Clone(s.Values)
	}
	c.Faults = slices.Clone(s.Faults)
	c.Loads = map[string]bool{}
	for _, leg := range c.Rig.Legs() {
		if c.Rig.Watts(c.Values, leg) > 0 {
			c.Loads[leg] = true
		}
	}
}

// Direct reports whether the loads of the case are on direct current.
func (c Case) Direct() bool {
	legs := c.Rig.Legs()
	return len(legs) > 0 && !slices.ContainsFunc(legs, func(leg string) bool { return leg != "dc" })
}
