package bench

import "faultwright/faulttree/rig"

// AllOn is everything plugged in and switched as it ordinarily is, all loads on.
func (b *Bench) AllOn() State {
	all := State{Loads: map[string]bool{}}
	for _, leg := range b.legs {
		all.Loads[leg] = true
	}
	return all
}

// Opened says by part whether it stands open in the vehicle with its faults, in a
// state, ordinarily that of [Bench.AllOn]: a protective device that the currents
// have opened, with all its wires, or a part that an edit of a fault opens. A run
// stands open where all its wires do: a breaker with one dead pole still looks
// closed.
func (b *Bench) Opened(st State) (map[string]bool, error) {
	_, k, err := b.solve(st, b.steady)
	if err != nil {
		return nil, err
	}
	open := map[string]bool{}
	for _, device := range b.tripped(k) {
		open[device] = true
	}
	for _, p := range b.rig.Parts {
		if p.Kind == rig.Breaker && open[p.Run] {
			open[p.Name] = true
		}
	}
	for _, a := range b.setup.Faults {
		for _, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind != rig.Open {
				continue
			}
			for _, name := range e.Parts {
				open[name] = true
			}
		}
	}
	closed := map[string]bool{} // runs with a wire that conducts
	for _, p := range b.rig.Parts {
		closed[p.Run] = closed[p.Run] || !open[p.Name]
	}
	for _, p := range b.rig.Parts {
		if !closed[p.Run] {
			open[p.Run] = true
		}
	}
	return open, nil
}
