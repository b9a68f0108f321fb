package mark

import (
	"cmp"
	"slices"

	"faultwright/faulttree/meter"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/rubric"
)

// showing lists the readings of a round that a sound vehicle, read by a meter
// without a mistake, would not have given.
func (g *marker) showing(round int) ([]int, error) {
	a := g.a
	a.Acts, a.Repaired, a.Conclusion = nil, 0, nil
	for _, m := range g.acts {
		if m.round <= round {
			a.Acts = append(a.Acts, m.Act)
		}
	}
	other, err := moments(g.sound(), a)
	if err != nil {
		return nil, err
	}
	var out []int
	for i, m := range other {
		if g.acts[i].Reads() && g.acts[i].round == round && !sameDisplay(g.acts[i].Act, m.Act, g.a.Meter) {
			out = append(out, i)
			g.sounds[i] = m.Shown
		}
	}
	return out, nil
}

// misreadShown reports whether the learner could see that the meter misled: it was
// set otherwise than it had been handed over, a proof did not show what it should, or
// the same points read otherwise once the meter was set otherwise.
func (g *marker) misreadShown(j *judged) (bool, error) {
	found, err := g.handedOver(g.c)
	if err != nil {
		return false, err
	}
	right, err := g.handedOver(g.sound())
	if err != nil {
		return false, err
	}
	var read []moment
	for _, m := range g.acts[:g.ended()] {
		s := m.Setting
		switch {
		case m.Reads() && (found.Hold && !s.Hold || found.Jack != right.Jack && s.Jack == right.Jack || found.Function != right.Function && s.Function != found.Function || found.Range != right.Range && s.Range != found.Range):
			return true, nil
		case m.Hazard, m.Kind == practice.Prove && slices.Contains(j.shows, m.index):
			return true, nil
		case m.Kind == practice.Read:
			for _, before := range read {
				if before.Red == m.Red && before.Black == m.Black && before.Setting != s && before.Shown != m.Shown && sameState(g.c.Rig, before.before, m.before) {
					return true, nil
				}
			}
			read = append(read, m)
		}
	}
	return false, nil
}

// handedOver is how the meter of a case is set at first.
func (g *marker) handedOver(c practice.Case) (meter.Setting, error) {
	v, err := c.Begin(g.a.Meter)
	if err != nil {
		return meter.Setting{}, err
	}
	return v.Setting(), nil
}

// sound is the case with nothing wrong, neither with it nor with the meter.
func (g *marker) sound() practice.Case {
	c := g.c
	c.Faults = nil
	return c
}

// complaint is whether it was seen for oneself before anything was concluded.
func (g *marker) complaint(j *judged) error {
	for _, i := range j.shows {
		if i < g.ended() {
			g.give(rubric.Complaint, 1, []int{i}, "Act %d showed it: %s; with nothing wrong it would have read %s.", practice.Number(i), g.display(i), figure(g.sounds[i]))
			return nil
		}
	}
	if !j.alters {
		for i, m := range g.acts[:g.ended()] {
			live := !dead(g.c.Rig, m.before) || m.volts >= g.limit().Float() // a pedestal is read with the plug out
			if m.Kind == practice.Read && m.Shown != "" && live {
				g.give(rubric.Complaint, 1, []int{i}, "Act %d looked for it: %s.", practice.Number(i), g.display(i))
				return nil
			}
		}
	}
	g.give(rubric.Complaint, 0, nil, "No reading before the conclusion shows what the customer complains of.")
	return nil
}

// display is what an act shows.
func (g *marker) display(i int) string { return figure(g.acts[i].Shown) }

func figure(shown string) string { return cmp.Or(shown, "no figure") }

// lastRead is the last act whose reading counted.
func (j *judged) lastRead() []int {
	if len(j.read) == 0 || j.read[len(j.read)-1].last() < 0 {
		return nil
	}
	return []int{j.read[len(j.read)-1].last()}
}
