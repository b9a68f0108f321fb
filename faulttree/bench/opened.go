package bench

import (
	"slices"

	"faultwright/faulttree/rig"
)

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
	for d, poles := range b.poles {
		if k.tripped&(1<<d) != 0 {
			open[b.devices[d]] = true
			for _, i := range poles {
				open[b.rig.Parts[i].Name] = true
			}
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
	if len(open) == 0 {
		return open, nil
	}
	for _, wires := range b.runs {
		if !slices.ContainsFunc(wires, func(i int) bool { return !open[b.rig.Parts[i].Name] }) {
			open[b.rig.Parts[wires[0]].Run] = true
		}
	}
	return open, nil
}

// Hot tells what a hand would find hot in the vehicle as it failed, in a state,
// ordinarily that of [Bench.AllOn]: by the name of a part, a contact of it that a fault has
// made bad; by the name of a run, its conductors along their length. Nothing is
// hot while the rig does not say from how much heat on.
func (b *Bench) Hot(st State) (map[string]bool, error) {
	w, _, err := b.solve(st, b.rig.Direct())
	if err != nil {
		return nil, err
	}
	hot, from := map[string]bool{}, b.rig.Heat
	mark := func(name string, watts, limit float64) {
		if limit > 0 && watts >= limit {
			hot[name] = true
		}
	}
	for i := range b.rig.Parts {
		p := &b.rig.Parts[i]
		if metres := b.number(p, rig.AttrLength, 0); p.Kind == rig.Conductor && metres > 0 {
			mark(p.Run, b.heatIn(w, i, b.resistance(p))/metres, from.Metre)
		}
	}
	for _, a := range b.setup.Faults {
		for _, e := range a.Fault.Variants[a.Variant].Edits {
			if e.Kind != rig.Resist {
				continue
			}
			for _, name := range e.Parts {
				if at := partAt(b.rig, name); at != rig.None {
					mark(name, b.heatIn(w, at, e.Ohms.Of(a.Severity)), from.Contact)
				}
			}
		}
	}
	return hot, nil
}

// heatIn is the watts that the current through a part makes in some ohms of it.
func (b *Bench) heatIn(w *compiled, part int, ohms float64) float64 {
	amps, known := w.amps(part)
	if !known {
		return 0 // an exact short
	}
	return abs(amps) * abs(amps) * ohms
}
