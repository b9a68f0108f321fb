package trial

import (
	"faultwright/faulttree"
	"faultwright/faulttree/rig"
	"slices"
)

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
