package practice

import (
	"cmp"
	"math"
	"slices"

	"faultwright/faulttree"
	"faultwright/faulttree/bench"
	"faultwright/faulttree/meter"
	"faultwright/faulttree/rig"
)

// Suspect is a fault put in the place of the true one: what the meter would
// have shown at every reading of an attempt, at the place and severity that
// come nearest.
type Suspect struct {
	Fault  string   // id, or [NoFault]
	Title  string   // "" for no fault
	Where  string   // the variant, in words
	Shows  []string // by reading
	Fits   []bool   // by reading: the same, as far as the meter can tell
	Fitted int
	gap    float64
}

// readings of a suspect that could not be had are shown so.
const notRead = "—"

// suspects tries every fault of a catalogue against the readings, the best
// first. With no readings every suspect fits equally.
func (c Case) suspects(catalogue []*rig.Fault, a Attempt, model faulttree.Meter) ([]Suspect, error) {
	b, err := bench.New(c.Rig)
	if err != nil {
		return nil, err
	}
	face := meter.NewFace(model)
	taken := a.Readings()
	try := func(id, title, where string, faults []rig.Applied) (Suspect, error) {
		other := c
		other.Faults = faults
		shown, err := other.Replay(a.Acts, b, face)
		if err != nil {
			return Suspect{}, err
		}
		return compare(Suspect{Fault: id, Title: title, Where: where}, taken, shown, model), nil
	}
	sound, err := try(NoFault, "", "", nil)
	if err != nil {
		return nil, err
	}
	out := []Suspect{sound}
	for _, f := range catalogue {
		var best *Suspect
		for _, applied := range c.ways(f) {
			s, err := try(f.ID, f.Title, f.Variants[applied.Variant].Text, []rig.Applied{applied})
			if err != nil {
				continue // the circuit cannot be solved with this number: it is no suspect
			}
			if best == nil || compareSuspects(s, *best) < 0 {
				best = &s
			}
		}
		if best != nil {
			out = append(out, *best)
		}
	}
	slices.SortStableFunc(out, compareSuspects)
	return out, nil
}

// ways lists the ways a fault may be in the case: every variant that fits, at
// the ordinary severity, the ends of its range, and that of the case.
func (c Case) ways(f *rig.Fault) []rig.Applied {
	var out []rig.Applied
	for i, v := range f.Variants {
		if !v.FitsIn(c.Rig) {
			continue
		}
		if f.Severity == nil {
			out = append(out, rig.Applied{Fault: f, Variant: i})
			continue
		}
		severities := []float64{f.Severity.Value, f.Severity.From, f.Severity.To}
		for _, a := range c.Faults {
			if a.Fault.ID == f.ID {
				severities = append(severities, a.Severity)
			}
		}
		slices.Sort(severities)
		for _, s := range slices.Compact(severities) {
			out = append(out, rig.Applied{Fault: f, Variant: i, Severity: s})
		}
	}
	return out
}

// compareSuspects orders suspects: more readings explained, then nearer ones.
func compareSuspects(a, b Suspect) int {
	return cmp.Or(cmp.Compare(b.Fitted, a.Fitted), cmp.Compare(a.gap, b.gap))
}

// compare fills in what a suspect shows beside what was taken.
func compare(s Suspect, taken, shown []Act, model faulttree.Meter) Suspect {
	for i, t := range taken {
		if i >= len(shown) || shown[i].Kind == Reject {
			s.Shows, s.Fits = append(s.Shows, notRead), append(s.Fits, false)
			continue
		}
		fits, gap := sameDisplay(t, shown[i], model)
		text := shown[i].Shown
		switch {
		case text == "":
			text = notRead
		case shown[i].Numeric():
			text = model.About(shown[i].reading.Low.Float(), faulttree.Quantity{Unit: t.Setting.Function.Unit()})
		}
		s.Shows, s.Fits = append(s.Shows, text), append(s.Fits, fits)
		s.gap += gap
		if fits {
			s.Fitted++
		}
	}
	return s
}

// indistinct is what no learner would take for a difference, whatever the meter
// resolves: no two vehicles are that equal. Common practice, no source.
var indistinct = map[faulttree.Unit]faulttree.Amount{
	faulttree.VoltsAC: faulttree.One, faulttree.VoltsDC: faulttree.One / 20, faulttree.Ohms: 3 * faulttree.One / 10,
	faulttree.AmpsAC: faulttree.One / 10, faulttree.AmpsDC: faulttree.One / 10,
}

// sameDisplay reports whether two displays say the same as far as the meter can
// tell, and how far apart they are: 0 is equal, 1 is different altogether.
func sameDisplay(a, b Act, model faulttree.Meter) (bool, float64) {
	if !a.Numeric() || !b.Numeric() {
		same := a.Shown == b.Shown && a.Hazard == b.Hazard
		if same {
			return true, 0
		}
		return false, 1
	}
	q := faulttree.Quantity{Unit: a.Setting.Function.Unit()}
	x, y := float64(a.reading.Low+a.reading.High)/2, float64(b.reading.Low+b.reading.High)/2
	room := float64(model.Uncertainty(a.reading, q)+model.Uncertainty(b.reading, q)) / 2
	room = max(room, 0.02*math.Abs(x), float64(indistinct[q.Unit]))
	gap := math.Abs(x - y)
	return gap <= room, gap / max(math.Abs(x), math.Abs(y), room, 1)
}
