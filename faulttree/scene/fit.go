package scene

import (
	"math"

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

// dialSteps is how many places of a dial are tried: enough for the
// nearest severity.
const dialSteps = 12

// fit puts the fault in one of some places and turns its severity, and the loads
// if asked, until the model reads what somebody has read, as nearly as it can.
// It returns how far off it stays: 0 is exact, 1 is about a tenth of each
// reading.
func (s *Scene) fit(taken []Taken, places []int, loads bool) (float64, error) {
	best, at, ordinary, severity := math.Inf(1), 0, s.severity, s.severity
	for _, place := range places {
		s.severity = ordinary
		s.SetPlace(place)
		off, err := s.fitSeverity(taken)
		if err != nil {
			return 0, err
		}
		if off < best-1e-9 {
			best, at, severity = off, place, s.severity
		}
	}
	s.severity = severity
	s.SetPlace(at)
	if !loads {
		return best, nil
	}
	for _, dial := range s.Loads() {
		var err error
		if best, err = s.refine(taken, best, dial, func(d Dial) { s.SetLoad(d.Name, d.Value) }); err != nil {
			return best, err
		}
	}
	return s.fitSeverity(taken)
}

func (s *Scene) fitSeverity(taken []Taken) (float64, error) {
	best, err := s.residual(taken)
	if dial, ok := s.Severity(); ok && err == nil {
		return s.refine(taken, best, dial, func(d Dial) { s.SetSeverity(d.Value) })
	}
	return best, err
}

// refine leaves a dial where the readings are met best.
func (s *Scene) refine(taken []Taken, best float64, dial Dial, set func(Dial)) (float64, error) {
	keep := dial
	for i := range dialSteps + 1 {
		d := dial
		d.Value = dial.At(float64(i) / dialSteps)
		set(d)
		off, err := s.residual(taken)
		if err != nil {
			return best, err
		}
		if off < best-1e-9 {
			best, keep = off, d
		}
	}
	set(keep)
	return best, nil
}

// residual is how far the model's readings are from those taken, on average.
// What could not be taken, and what is about the meter alone, does not count.
func (s *Scene) residual(taken []Taken) (float64, error) {
	if err := s.set(); err != nil {
		return 0, err
	}
	sum, n := 0.0, 0
	for _, t := range taken {
		if t.Reading.Quality == faulttree.NotPossible || t.Quantity.OfMeter() {
			continue
		}
		got, ok, err := s.asked().Value(t.Quantity)
		if err != nil {
			return 0, err
		}
		n++
		if !ok {
			sum++
			continue
		}
		sum += s.deviation(t, got)
	}
	if n == 0 {
		return 0, nil
	}
	return sum / float64(n), nil
}

// deviation is how far a value of the model is from a reading: 1 for about a
// tenth of it, or for ten times the ohms. Over-range is met by what the meter
// could not show either.
func (s *Scene) deviation(t Taken, got float64) float64 {
	over := s.meter.Face().Display(got, t.Quantity.Unit, 0, 0).Quality == faulttree.OverRange
	if over || t.Reading.Quality == faulttree.OverRange {
		if over == (t.Reading.Quality == faulttree.OverRange) {
			return 0
		}
		return 1
	}
	want := (t.Reading.Low.Float() + t.Reading.High.Float()) / 2
	if t.Quantity.SizeOnly {
		got, want = math.Abs(got), math.Abs(want)
	}
	if t.Quantity.Unit == faulttree.Ohms { // contacts add some tenths of an ohm
		return min(1, math.Abs(math.Log10((got+0.5)/(want+0.5))))
	}
	return math.Abs(got-want) / (1 + 0.1*math.Abs(want))
}

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
			c.Model = "live: not to be read in ohms"
		case ok:
			c.Model = "OL"
			if r := s.meter.Face().Display(value, t.Quantity.Unit, 0, 0); r.Quality != faulttree.OverRange {
				c.Model = r.Low.With(t.Quantity.Unit)
			}
		}
		out = append(out, c)
	}
	return out, nil
}
