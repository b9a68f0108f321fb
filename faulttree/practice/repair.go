package practice

import (
	"slices"

	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// Repaired is the case after what was concluded is put right: the faults that
// were named and are there. A single fault that was said to be in another place
// than it is stays.
func (c Case) Repaired(done Conclusion) Case {
	c.Faults = slices.DeleteFunc(slices.Clone(c.Faults), func(a rig.Applied) bool {
		if !slices.Contains(done.Faults, a.Fault.ID) {
			return false
		}
		return done.Place == "" || len(done.Faults) > 1 || a.Variant >= 0 && a.Variant < len(a.Fault.Variants) && a.Fault.Variants[a.Variant].Place == done.Place
	})
	return c
}

// Repair puts right what was concluded; the vehicle stays as it stands.
func (v *Learner) Repair(done Conclusion) error {
	before := len(v.c.Faults)
	ofMeters := func(c Case) int {
		n := 0
		for _, a := range c.Faults {
			if ofMeter(a) {
				n++
			}
		}
		return n
	}
	misled := ofMeters(v.c)
	v.c = v.c.Repaired(done)
	v.before = nil
	if left := ofMeters(v.c); left < misled {
		v.rightMeter()
	}
	if len(v.c.Faults) == before {
		return nil
	}
	return v.put()
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
