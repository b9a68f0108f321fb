package trial

import (
	"math/rand/v2"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/drawn"
	"faultwright/faulttree/rig"
)

// draw is one vehicle with all that chance decides.
type draw struct {
	stratum
	number int
	chance uint64 // what it is made from, with the seed
	setup  rig.Setup
	loads  map[string]bool // legs that happen to be on, for the check of the body
	misuse misuse
}

// make draws a vehicle from the seed and its number alone. Numbers beyond the
// plan's, each its total higher, make further vehicles of the same stratum.
func (p *plan) make(s stratum, number int, seed uint64) draw {
	from := drawn.Stratum{Rig: s.rig}
	if s.fault >= 0 {
		from.Ways = []drawn.Way{{Fault: p.faults[s.fault], Variant: s.variant}}
	}
	c := from.Draw(rand.New(rand.NewPCG(seed, p.chance(number))))
	d := draw{stratum: s, number: number, chance: p.chance(number), setup: c.Setup, loads: c.Loads}
	for _, w := range from.Ways {
		for _, e := range w.Fault.Variants[w.Variant].Edits {
			if e.Kind == rig.Misuse {
				d.misuse = misuse{mistake: e.Mistake, late: c.Late, stale: c.Stale}
			}
		}
	}
	return d
}

// describe says what a draw is: the rig, the fault, where, how bad.
func (d draw) describe() string {
	text := d.rig.ID
	for i, v := range d.rig.Varieties {
		if d.setup.Varieties&(1<<i) != 0 {
			text += ", " + v.Name
		}
	}
	for _, a := range d.setup.Faults {
		v := a.Fault.Variants[a.Variant]
		text += ", " + a.Fault.ID + "@" + string(v.Place)
		if v.Text != "" {
			text += " " + v.Text
		}
		if s := a.Fault.Severity; s != nil {
			text += " " + s.Unit.Format(a.Severity)
		}
	}
	if d.misuse.mistake != 0 {
		if d.misuse.late {
			text += ", after the proof"
		} else {
			text += ", from the start"
		}
	}
	return text
}

// place is where the fault of the draw sits, "" for a healthy rig.
func (d draw) place() faulttree.Place {
	if d.fault < 0 {
		return ""
	}
	a := d.setup.Faults[0]
	return a.Fault.Variants[a.Variant].Place
}

// DefaultRig is where a walk over a rig ends that has its ordinary numbers and
// no fault, all loads off, the meter without error. A walk in which a choice is
// open has several of them.
type DefaultRig struct {
	Rig      string `json:"rig"`
	Role     string `json:"role"`
	Finding  string `json:"finding"`
	Signal   string `json:"signal"`
	NoFault  bool   `json:"no_fault"` // it is a finding that sound vehicles should reach
	Readings int    `json:"readings"`
	Path     string `json:"path"`
}

// defaultRigs walks every rig of the tree as it is by default.
func (t *trial) defaultRigs() ([]DefaultRig, error) {
	var out []DefaultRig
	w := t.newWorker()
	for _, r := range t.plan.rigs {
		s := stratum{rig: r, fault: -1}
		k, err := w.readerFor(s)
		if err != nil {
			return nil, err
		}
		k.in.exact = true
		if err := k.begin(draw{stratum: s, setup: rig.Setup{Values: r.Values()}}); err != nil {
			return nil, err
		}
		for _, role := range roles {
			ends, err := t.walk(k, role)
			if err != nil {
				return nil, err
			}
			for _, e := range ends {
				f := t.endpoints[e.endpoint]
				out = append(out, DefaultRig{r.ID, role.String(), f.ref.String(), e.signal.String(), f.noFault, e.taken.readings(), t.describeWalk(e)})
			}
		}
	}
	return out, nil
}

// callsDanger reports whether any ending of a walk is one of signal DANGER.
func callsDanger(ends []ending) bool {
	return slices.ContainsFunc(ends, func(e ending) bool { return e.signal == faulttree.Danger })
}
