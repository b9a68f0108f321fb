package parts

import (
	"faultwright/content/figure"
	"faultwright/faulttree/scene"
	"faultwright/gui/look"
)

// Oneline lays out the drawing of a scene in some width of the window. Points tells
// its test points.
func Oneline(s *scene.Scene, v scene.View, points func(node string) bool, width float32) *figure.Oneline {
	var kind *bool
	if alternating, direct := s.Kinds(); alternating && direct {
		shown := s.Direct()
		kind = &shown
	}
	return figure.NewOneline(figure.OnelinePlan{
		Direct: kind, Rig: s.Rig(), Fault: s.Variant(), Loads: v.State.Loads, Points: points, Width: float64((width - 24) / look.TextScale()),
	})
}

// OnelineState is what the drawing of a scene shows.
func OnelineState(s *scene.Scene, v scene.View) figure.OnelineState {
	red, black := s.Probes()
	dial, _ := s.Severity()
	return figure.OnelineState{
		Live: true, Direct: s.Direct(), Volts: v.Volts, Amps: v.Amps, Tripped: v.Tripped, Off: v.State.Off, Loads: v.State.Loads,
		Values: v.Values, Fault: s.Variant(), Severity: dial.Value, Red: red, Black: black, Danger: v.Danger,
	}
}
