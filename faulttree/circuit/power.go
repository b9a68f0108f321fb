package circuit

import "math/cmplx"

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
	return (s.at(e.A) - s.at(e.B)) * cmplx.Conj(current), true
}
