package trial

import (
	"math/rand/v2"

	"faultwright/faulttree"
	"faultwright/faulttree/rig"
)

// draw is one vehicle with all that chance decides.
type draw struct {
	stratum
	number int
	setup  rig.Setup
	loads  map[string]bool // legs that happen to be on, for the check of the body
	misuse misuse
}

// make draws a vehicle from the seed and its number alone. Numbers beyond the
// plan's, each its total higher, make further vehicles of the same stratum.
func (p *plan) make(s stratum, number int, seed uint64) draw {
	rng := rand.New(rand.NewPCG(seed, p.chance(number)))
	d := draw{stratum: s, number: number, loads: map[string]bool{}}
	d.setup.Values = s.rig.Draw(rng)
	for _, leg := range s.rig.Legs() {
		d.loads[leg] = rng.IntN(2) == 1
	}
	late, stale := rng.IntN(2) == 1, rng.IntN(2) == 1
	d.setup.Varieties = s.rig.DrawVarieties(rng)
	if s.fault < 0 {
		return d
	}
	f := p.faults[s.fault]
	severity := 0.0
	if f.Severity != nil {
		severity = f.Severity.At(rng.Float64())
	}
	d.setup.Faults = []rig.Applied{{Fault: f, Variant: s.variant, Severity: severity}}
	for _, e := range f.Variants[s.variant].Edits {
		if e.Kind == rig.Misuse {
			d.misuse = misuse{mistake: e.Mistake, late: late, stale: stale}
		}
	}
	return d
}

// describe says what a draw is: the rig, the fault, where, how bad.
func (d draw) describe() string {
	text := d.rig.ID
	for i, v := range d.rig.Varieties {
		if d.setup.Varieties&(1<<i) != 0 {
			text += ", " + v.Name
		}
	}
	for _, a := range d.setup.Faults {
		v := a.Fault.Variants[a.Variant]
		text += ", " + a.Fault.ID + "@" + string(v.Place)
		if v.Text != "" {
			text += " " + v.Text
		}
		if s := a.Fault.Severity; s != nil {
			text += " " + s.Unit.Format(a.Severity)
		}
	}
	if d.misuse.mistake != 0 {
		if d.misuse.late {
			text += ", after the proof"
		} else {
			text += ", from the start"
		}
	}
	return text
}

// place is where the fault of the draw sits, "" for a healthy rig.
func (d draw) place() faulttree.Place {
	if d.fault < 0 {
		return ""
	}
	a := d.setup.Faults[0]
	return a.Fault.Variants[a.Variant].Place
}
