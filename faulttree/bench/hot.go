package bench

import "faultwright/faulttree/rig"

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
