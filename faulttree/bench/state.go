package bench

import "faultwright/faulttree"

// State is what is plugged, switched and turned on while something is measured.
type State struct {
	Off   map[string]bool // switches by name: true is off, false is on; the others are in their ordinary position
	Loads map[string]bool // legs whose loads are on; nil means none
}

// StateFor says in which state a quantity is read, by the rules of the rig (see
// [faultwright/faulttree/rig.StateRule]): what is measured at the pedestal is
// measured with nothing plugged in, what is measured on pulled pins with the
// plug out. A switch that no rule speaks of is in its ordinary position. Loads
// are on where the quantity asks for loads, and connected where a rule says so;
// legs are those whose loads go on.
func (b *Bench) StateFor(q faulttree.Quantity, legs []string) State {
	st := State{Off: map[string]bool{}}
	loads := q.Has(faulttree.Loaded)
	for _, rule := range b.rig.States {
		if !rule.Fits(q) {
			continue
		}
		for _, s := range rule.Off {
			st.Off[s] = true
		}
		for _, s := range rule.On {
			st.Off[s] = false
		}
		loads = loads || rule.Loads
	}
	if loads {
		st.Loads = map[string]bool{}
		for _, leg := range legs {
			st.Loads[leg] = true
		}
	}
	return st
}
