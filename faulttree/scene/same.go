package scene

import (
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
	"faultwright/faulttree/vehicle"
)

// Explanation is a scene made for a page, and what it is in words.
type Explanation struct {
	Scene   *Scene
	Text    string   // what is on show, a sentence
	Differs []string // what is not as the page had it, a sentence each
}

// Same puts a vehicle on show exactly as it stands: its numbers, its switches,
// its loads and its faults, of which the first that can be drawn is the one
// whose severity can be turned.
func Same(r *rig.Rig, book Book, setup rig.Setup, as bench.State) (Explanation, error) {
	s, err := New(r, book)
	if err != nil {
		return Explanation{}, err
	}
	if err := s.Put(setup); err != nil {
		return Explanation{}, err
	}
	s.Stand(as)
	return Explanation{Scene: s, Text: s.Text()}, nil
}

// Stand switches what is on show as in a state: the loads of its legs on, as many
// watts as the vehicle has there, and the others off.
func (s *Scene) Stand(as bench.State) {
	for i := range s.legs {
		l := &s.legs[i]
		if as.Loads[l.name] {
			s.turn(l, s.rig.Watts(s.base, l.name))
		} else {
			s.turn(l, 0)
		}
	}
	for _, sw := range s.rig.Switches {
		off, said := as.Off[sw.Name]
		s.Throw(sw.Name, !(off || !said && sw.Off))
	}
}

// Read holds the meter as for a quantity: its function, and the probes.
func (s *Scene) Read(q faulttree.Quantity) {
	s.SetProbes(q.Red, q.Black)
	s.SetDirect(q.Unit == faulttree.VoltsDC || q.Unit == faulttree.AmpsDC)
	s.meter.Setting.Function = meter.For(q)
}

// Text says what is on show: the vehicle, its faults and where they are, its loads.
func (s *Scene) Text() string {
	text := s.rig.Title + "."
	if s.fault != nil {
		text = s.rig.Title + ": " + s.fault.Title + ", " + s.Places()[s.variant] + "."
		var loads []string
		for _, d := range s.Loads() {
			if d.Value > 0 {
				loads = append(loads, d.Text()+" on "+strings.TrimPrefix(d.Title, "Loads on "))
			}
		}
		if len(loads) > 0 {
			text += " Loads: " + strings.Join(loads, ", ") + "."
		}
	}
	for _, a := range s.also {
		text += " With it: " + a.Fault.Title + "."
	}
	return text
}

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
