package drawn

import (
	"sync"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Stand is how a vehicle stands while something is read that is not read as the
// handbook says: somebody's switches and loads, and what was exchanged for sound.
type Stand struct {
	State  bench.State
	Renews []string // names of parts, as an intervention has them
}

// Stand makes a quantity one that is read in a state of its own: its column is what
// it reads then. Its id must be of no quantity of the handbook, and always mean the
// same.
func (p *Population) Stand(q faulttree.Quantity, as Stand) { p.stands.put(q.ID, as) }

// stands is the quantities that are read in states of their own, of all populations
// with the same base.
type stands struct {
	mu   sync.Mutex
	byID map[string]Stand
}

func (s *stands) of(id string) (Stand, bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	as, ok := s.byID[id]
	return as, ok
}

func (s *stands) put(id string, as Stand) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.byID[id] = as
}

// take measures in the state. Where something was exchanged the vehicle is another
// one for as long.
func (s Stand) take(v *vehicle.Vehicle, q faulttree.Quantity) take {
	probes := v.Probing(q, s.State)
	left := map[Way]rig.Applied{} // a bench keeps a circuit for each fault that it has met
	return func(setup rig.Setup) (value float64, ok bool, err error) {
		if len(s.Renews) > 0 {
			if err := v.Put(s.left(v.Rig(), setup, left)); err != nil {
				return 0, false, err
			}
			defer func() {
				if back := v.Put(setup); err == nil {
					err = back
				}
			}()
		}
		m, err := probes.Measure()
		if err != nil {
			return 0, false, err
		}
		value, ok = m.Number(q.Unit)
		return value, ok, nil
	}
}

// left is what is left of a setup once something was exchanged. What is left of
// each fault is known once it was looked at.
func (s Stand) left(r *rig.Rig, setup rig.Setup, known map[Way]rig.Applied) rig.Setup {
	var left []rig.Applied
	for _, a := range setup.Faults {
		way := Way{a.Fault, a.Variant}
		one, met := known[way]
		if !met {
			one.Fault, one.Variant = a.Fault.Renewed(a.Variant, r, s.Renews, r)
			known[way] = one
		}
		if one.Severity = a.Severity; one.Fault != nil {
			left = append(left, one)
		}
	}
	setup.Faults = left
	return setup
}
