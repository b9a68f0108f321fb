package scene

import (
	"math"

	"faultwright/faulttree/rig"
)

// Dial is a number that can be chosen between two ends.
type Dial struct {
	Name            string // a leg, "severity"
	Title           string // in words, for the reader
	Unit            rig.ParamUnit
	From, To, Value float64
	Log             bool // even steps multiply
}

// Share is where the value stands between the ends, 0 to 1.
func (d Dial) Share() float64 {
	switch {
	case d.To <= d.From:
		return 0
	case d.Log && d.From > 0:
		return clamp(math.Log(d.Value/d.From) / math.Log(d.To/d.From))
	}
	return clamp((d.Value - d.From) / (d.To - d.From))
}

// At is the value at a share of the way.
func (d Dial) At(share float64) float64 {
	share = clamp(share)
	if d.Log && d.From > 0 {
		return d.From * math.Pow(d.To/d.From, share)
	}
	return d.From + (d.To-d.From)*share
}

func clamp(share float64) float64 {
	if math.IsNaN(share) {
		return 0
	}
	return min(max(share, 0), 1)
}

// Text is the value with its unit.
func (d Dial) Text() string { return d.Unit.Format(d.Value) }
