package practice

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// Repaired is the case after what was concluded is put right: the faults that
// were named and are there. What comes along with one, a leak behind a lost ground,
// stays where it was not named. A single fault that was said to be in another
// place than it is stays.
func (c Case) Repaired(done Conclusion) Case {
	right := func(at faulttree.FaultAt) bool {
		return slices.Contains(done.Faults, at.Fault) && (done.Place == "" || len(done.Faults) > 1 || at.Place == done.Place)
	}
	var left []rig.Applied
	for _, a := range c.Faults {
		if f, variant := a.Fault.PutRight(a.Variant, right, c.Catalogue); f != nil {
			left = append(left, rig.Applied{Fault: f, Variant: variant, Severity: a.Severity})
		}
	}
	c.Faults = left
	return c
}

// Repair puts right what was concluded; the vehicle stays as it stands.
func (v *Learner) Repair(done Conclusion) error {
	mistakes := v.c.mistakes()
	v.c = v.c.Repaired(done)
	v.before = nil
	if v.c.mistakes() < mistakes {
		v.rightMeter()
	}
	return v.put()
}

// mistakes counts those with the meter.
func (c Case) mistakes() (n int) {
	for _, a := range c.Faults {
		if ofMeter(a) {
			n++
		}
	}
	return n
}

// rightMeter is the meter as it is after a mistake with it was put right; other
// mistakes stay.
func (v *Learner) rightMeter() {
	m := meter.New(v.meter.Face(), nil)
	m.Setting.Function = v.meter.Setting.Function
	m.FuseBlown = v.meter.FuseBlown
	m.Apply(v.c.Faults)
	v.meter = m
}
