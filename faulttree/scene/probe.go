package scene

import (
	"faultwright/faulttree"
	"faultwright/faulttree/meter"
)

// Points lists the test points of the rig, from the supply to the vehicle.
func (s *Scene) Points() []string { return s.points }

// PointTitle words a test point; a node that is none is called by its name.
func (s *Scene) PointTitle(node string) string {
	if p, ok := s.book.Points[node]; ok && p.Title != "" {
		return p.Title
	}
	return node
}

// Probes are the test points the red and the black probe touch, "" for none.
func (s *Scene) Probes() (red, black string) { return s.red, s.black }

// SetProbes puts both probes; "" lifts one off.
func (s *Scene) SetProbes(red, black string) { s.red, s.black = red, black }

// Touch puts the next probe on a point: red, then black, then red again.
func (s *Scene) Touch(node string) {
	if s.redNext {
		s.red = node
	} else {
		s.black = node
	}
	s.redNext = !s.redNext
}

// Meter is the meter in the reader's hand; its setting can be changed.
func (s *Scene) Meter() *meter.Multimeter { return s.meter }

// Functions lists where the dial can stand.
func (s *Scene) Functions() []meter.Function {
	return []meter.Function{meter.VoltsAC, meter.LowZ, meter.VoltsDC, meter.Ohms, meter.AmpsAC}
}

// FunctionTitle words a place of the dial.
func FunctionTitle(f meter.Function) string {
	if f == meter.LowZ {
		return "AC volts, low impedance"
	}
	return f.Unit().Function()
}

// Display is what the meter shows, in words where it shows no number.
type Display struct {
	Text   string // "119.9 V", "OL", or ""
	Note   string // why there is no number, or what to do
	Hazard bool   // what was tried can hurt, or ruins the meter
}

// show reads the meter. The choices must be on the vehicle.
func (s *Scene) show() Display {
	f := s.meter.Setting.Function
	clamp := f == meter.AmpsAC || f == meter.AmpsDC
	switch {
	case s.red == "" && clamp:
		return Display{Note: "Put the red mark on a point: the clamp goes around the conductor there."}
	case s.red == "" || s.black == "" && !clamp:
		return Display{Note: "Put the " + s.missingProbe() + " on a test point."}
	}
	q := faulttree.Quantity{ID: s.red + "-" + s.black, Title: "between the probes", Unit: f.Unit(), Red: s.red, Black: s.black,
		Range: 600 * faulttree.One, Most: faulttree.Highest}
	if clamp {
		q.Black = ""
	}
	shown, err := s.meter.Read(s.vehicle, q)
	switch {
	case err != nil:
		return Display{Note: err.Error()}
	case shown.Hazard != "":
		return Display{Note: shown.Hazard, Hazard: true}
	case shown.Text == "":
		return Display{Note: shown.Reading.Reason}
	}
	d := Display{Text: shown.Text}
	if shown.Text != "OL" && shown.Unit != "" {
		d.Text += " " + shown.Unit
	}
	if shown.Beeps {
		d.Note = "It beeps."
	}
	return d
}

func (s *Scene) missingProbe() string {
	switch {
	case s.red == "" && s.black == "":
		return "red probe and the black one"
	case s.red == "":
		return "red probe"
	}
	return "black probe"
}
