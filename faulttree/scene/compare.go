package scene

import (
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/vehicle"
)

// Taken is a reading that somebody has taken.
type Taken struct {
	Quantity faulttree.Quantity
	Reading  faulttree.Reading
}

// Compared is a reading beside what the model would read.
type Compared struct{ Title, Taken, Model string }

// asked is the vehicle in the state in which a quantity is read, with those
// loads on that are turned up.
func (s *Scene) asked() vehicle.Asked {
	var on []string
	for _, l := range s.legs {
		if l.watts > 0 {
			on = append(on, l.name)
		}
	}
	return s.vehicle.Asked(on)
}

// LiveUnderOhms stands where ohms would be read on a live circuit.
const LiveUnderOhms = "live: not to be read in ohms"

// Compare puts readings beside those of the model at the present choices.
func (s *Scene) Compare(taken []Taken) ([]Compared, error) {
	if err := s.set(); err != nil {
		return nil, err
	}
	var out []Compared
	for _, t := range taken {
		m, err := s.asked().Measure(t.Quantity, bench.HighImpedance)
		if err != nil {
			return nil, err
		}
		c := Compared{Title: t.Quantity.Title, Taken: t.Reading.Show(t.Quantity.Unit), Model: noValue}
		value, ok := m.Number(t.Quantity.Unit)
		switch {
		case m.Hazard:
			c.Model = LiveUnderOhms
		case ok:
			c.Model = s.meter.Face().Model.About(value, t.Quantity)
		}
		out = append(out, c)
	}
	return out, nil
}
