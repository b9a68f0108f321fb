package circuit

import "math/cmplx"

// Power is [Solver.PowerAt] by name.
func (s *Solver) Power(name string) (voltAmperes complex128, ok bool) {
	i, found := s.Index(name)
	if !found {
		return 0, false
	}
	return s.PowerAt(i)
}

// PowerAt is the complex power that an element takes up, volts times the
// conjugate of amperes: its real part watts, negative where it gives, its
// imaginary part reactive, positive in an inductor. Over a whole net it sums to
// zero. An exact short takes none though its current is not known; ok is false
// only for a place that no element has. It allocates nothing.
func (s *Solver) PowerAt(i int) (voltAmperes complex128, ok bool) {
	if s.there(i) != nil {
		return 0, false
	}
	e := &s.net.elements[i]
	current, known := s.CurrentAt(i)
	if !known || current == 0 {
		return 0, true
	}
	across := s.at(e.A) - s.at(e.B)
	if e.Kind == Transformer {
		across -= complex(e.Value, 0) * (s.at(e.C) - s.at(e.D))
	}
	return across * cmplx.Conj(current), true
}
