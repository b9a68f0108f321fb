package practice

import (
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/lists"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// standing is how the vehicle stands and what the learner has changed of it.
type standing struct {
	off, loads map[string]bool
	within     bool
	tried      []string
	blown      bool     // the meter's fuse
	open       []string // what has tripped and stays open
}

func (v *Learner) standing() standing {
	st := v.vehicle.State()
	return standing{st.Off, st.Loads, v.within, slices.Clone(v.tried), v.meter.FuseBlown, v.vehicle.Open()}
}

// stand puts everything back as it stood, but that what has tripped meanwhile stays so.
func (v *Learner) stand(s standing) error {
	v.vehicle.KeepOpen(s.open...)
	for name, off := range s.off {
		v.vehicle.Throw(name, !off)
	}
	for _, leg := range v.c.Rig.Legs() {
		v.vehicle.Turn(leg, s.loads[leg])
	}
	v.within, v.meter.FuseBlown = s.within, s.blown
	if slices.Equal(v.tried, s.tried) {
		return v.settle()
	}
	v.tried = s.tried
	return v.put()
}

// intervention is one of those that may be tried, by its id.
func (c Case) intervention(id string) (faulttree.Intervention, bool) {
	return lists.Find(c.Tries, func(i faulttree.Intervention) bool { return i.ID == id })
}

// triedBy lists the interventions that are an act of a kind.
func (c Case) triedBy(k Kind) []string {
	var out []string
	for _, i := range c.Tries {
		if i.Unloaded == (k == Unplug) {
			out = append(out, i.ID)
		}
	}
	return out
}

// MayTry gives the case those of some interventions that can be tried before
// its rig and leave it the same rig: something else in the place of what is
// there ([Swap]), or appliances out ([Unplug]).
func (c *Case) MayTry(all []faulttree.Intervention) {
	fact := func(id string) string { return c.Rig.Facts[id] }
	c.Tries = nil
	for _, i := range all {
		same := len(i.Facts) == 0 && len(i.Off) == 0 && len(i.On) == 0
		if same && !i.Needs.Unmet(fact) && (len(c.exchanged(i)) > 0 || i.Unloaded && len(c.Rig.Legs()) > 0) {
			c.Tries = append(c.Tries, i)
		}
	}
}

// exchanged lists the parts of the rig that are others after an intervention.
// Where it renews only what lies at a point, as with a breaker off, nothing is.
func (c Case) exchanged(i faulttree.Intervention) []rig.Part {
	var out []rig.Part
	for _, p := range c.Rig.Parts {
		if slices.Contains(i.Renews, p.Name) || p.Run != "" && slices.Contains(i.Renews, p.Run) {
			out = append(out, p)
		}
	}
	return out
}

// plugsOf lists the plugs that hold what an intervention exchanges.
func (v *Learner) plugsOf(id string) []rig.Switch {
	i, _ := v.c.intervention(id)
	var out []rig.Switch
	for _, s := range v.c.Rig.Switches {
		if slices.ContainsFunc(v.c.exchanged(i), func(p rig.Part) bool {
			return slices.Contains(s.Covers, rig.Group(p.A)) || slices.Contains(s.Covers, rig.Group(p.B))
		}) {
			out = append(out, s)
		}
	}
	return out
}

// unplugged reports whether the appliances are out.
func (v *Learner) unplugged() bool {
	return slices.ContainsFunc(v.tried, func(id string) bool {
		i, _ := v.c.intervention(id)
		return i.Unloaded
	})
}

// try exchanges something, or puts it back.
func (v *Learner) try(a Act) error {
	in := a.On == (a.Kind == Swap)
	v.tried = slices.DeleteFunc(slices.Clone(v.tried), func(id string) bool { return id == a.Name })
	if in {
		v.tried = append(v.tried, a.Name)
	}
	i, _ := v.c.intervention(a.Name)
	exchanged := v.c.exchanged(i)
	v.vehicle.Close(v.c.devicesOf(func(p rig.Part) bool {
		return slices.ContainsFunc(exchanged, func(o rig.Part) bool { return o.Name == p.Name })
	})...)
	if v.unplugged() {
		for _, leg := range v.c.Rig.Legs() {
			v.vehicle.Turn(leg, false)
		}
	}
	return v.put()
}

// put gives the vehicle its numbers and what is left of its faults after all
// that was tried.
func (v *Learner) put() error {
	s := v.c.Setup()
	for _, id := range v.tried {
		i, _ := v.c.intervention(id)
		var left []rig.Applied
		for _, a := range s.Faults {
			if f, variant := a.Fault.Renewed(a.Variant, v.c.Rig, i.Renews, v.c.Rig); f != nil {
				left = append(left, rig.Applied{Fault: f, Variant: variant, Severity: a.Severity})
			}
		}
		s.Faults = left
	}
	if err := v.vehicle.Put(s); err != nil {
		return err
	}
	return v.settle()
}

// Repaired is the case after what was concluded is put right: the faults that
// were named and are there, and those that the same person mends in the place of one
// that was named. What comes along with one, a leak behind a lost ground, stays where it
// was not named. A single fault that was said to be in another place than it is stays.
func (c Case) Repaired(done Conclusion) Case {
	right := func(at faulttree.FaultAt) bool {
		named := func(id string) bool { return id == at.Fault || c.mendedAlike(at, id) }
		return slices.ContainsFunc(done.Faults, named) && (done.Place == "" || len(done.Faults) > 1 || at.Place == done.Place)
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

// mendedAlike reports whether another fault can sit where one sits, and the same person
// mends it there. Mistakes with the meter are told apart.
func (c Case) mendedAlike(at faulttree.FaultAt, other string) bool {
	if c.RepairBy == nil || at.Place == faulttree.MeterOwn || c.RepairBy(at) == "" {
		return false
	}
	return slices.ContainsFunc(c.Catalogue, func(f *rig.Fault) bool {
		return f.ID == other && slices.Contains(f.Places(), at.Place) && c.RepairBy(faulttree.FaultAt{Fault: other, Place: at.Place}) == c.RepairBy(at)
	})
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
	return lists.Count(c.Faults, ofMeter)
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
