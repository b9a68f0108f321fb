package bench

import "faultwright/faulttree/circuit"

// ohmsAt is two points that an ohmmeter is put on in a state, and what is between them in
// the vehicle of some age.
type ohmsAt struct {
	red, black circuit.Node
	age        uint64
	ohms       complex128
	ok         bool
}

// ohmsAt is the one for two points.
func (s *standing) ohmsAt(red, black circuit.Node) *ohmsAt {
	for _, o := range s.ohms {
		if o.red == red && o.black == black {
			return o
		}
	}
	o := &ohmsAt{red: red, black: black}
	s.ohms = append(s.ohms, o)
	return o
}

// other is another one of the state that is not known for an age and has something between
// its points, nil where there is none: mostly all of a state are asked for of a vehicle.
func (s *standing) other(than *ohmsAt, age uint64, in *circuit.Solver) *ohmsAt {
	for _, o := range s.ohms {
		if o != than && o.age != age && in.SameIsland(o.red, o.black) {
			return o
		}
	}
	return nil
}

// between is what is between two points with all sources silent, at 0 Hz; ok is false where
// nothing leads from one to the other.
func (b *Bench) between(s *standing, at *ohmsAt) (ohms complex128, ok bool, err error) {
	if at.age == b.age {
		return at.ohms, at.ok, nil
	}
	k := b.state(s, true)
	k.probe = true
	w, err := b.circuitFor(k)
	if err != nil {
		return 0, false, err
	}
	if w.pairs[0] == nil {
		w.pairs = [2]*circuit.Pair{w.solver.Pair(circuit.Earth, circuit.Earth), w.solver.Pair(circuit.Earth, circuit.Earth)}
	}
	p, q := w.pairs[0], w.pairs[1]
	other := s.other(at, b.age, w.solver)
	if other == nil {
		p.Look(at.red, at.black)
	} else if circuit.LookBoth(p, at.red, at.black, q, other.red, other.black) {
		other.ohms, other.ok = q.Impedance()
		other.age = b.age
	}
	if err := p.Err(); err != nil {
		return 0, false, err
	}
	at.ohms, at.ok = p.Impedance()
	at.age = b.age
	return at.ohms, at.ok, nil
}
