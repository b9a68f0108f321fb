package practice

import (
	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
)

// read reads the meter and writes what it shows into the act.
func (v *Learner) read(a *Act) error {
	v.meter.Setting = a.Setting
	f := a.Setting.Function
	q := faulttree.Quantity{ID: a.Red + "-" + a.Black, Title: "between the probes", Unit: f.Unit(), Red: a.Red, Black: a.Black,
		Range: 600 * faulttree.One, Most: faulttree.Highest}
	if f == meter.AmpsAC || f == meter.AmpsDC {
		q.Black, a.Black = "", ""
	}
	if a.Kind == Prove {
		q.Proves = faulttree.ProvesVoltsAC
		if f == meter.VoltsDC {
			q.Proves = faulttree.ProvesVoltsDC
		}
	}
	shown, err := v.meter.Read(v.probed(f), q)
	if err != nil {
		return err
	}
	switch {
	case shown.Hazard != "" && f.Unit() == faulttree.Ohms && a.Setting.Jack == meter.VoltJack:
		a.Note, a.Hazard = flash, true
	case shown.Hazard != "":
		a.Note, a.Hazard = shown.Hazard, true
	case shown.Beeps:
		a.Note = "It beeps."
	default:
		a.Note = shown.Reading.Reason
	}
	if a.Hazard {
		a.reading = faulttree.NotTaken(a.Note)
		return nil
	}
	a.reading, a.Shown = shown.Reading, shown.Text
	if shown.Text != "" && shown.Text != "OL" {
		a.Shown += " " + shown.Unit
	}
	return nil
}

// flash is all that ohms on a live circuit tell.
const flash = "A flash at the tips: the meter was on ohms, and the circuit is live."

// probed is what the meter is put on. A clamp is read through the ampere jack:
// with its fuse blown it sees nothing, wherever it is.
func (v *Learner) probed(f meter.Function) meter.Circuit {
	if v.meter.FuseBlown && (f == meter.AmpsAC || f == meter.AmpsDC) {
		return nothing{}
	}
	return v.vehicle
}

// nothing is a circuit in which nothing flows.
type nothing struct{}

// Measure sees nothing.
func (nothing) Measure(faulttree.Quantity, bench.Input) (bench.Measured, error) {
	return bench.Measured{Defined: true}, nil
}
