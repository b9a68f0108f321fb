package trial

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
	"faultwright/faulttree/vehicle"
)

// ending is where one walk ended.
type ending struct {
	endpoint int // index into trial.findings
	signal   faulttree.Signal
	taken    taken
	walk     faulttree.Walk
}

// walk finds every ending of the reader's draw for one role: one, or several
// where an observe step leaves the choice open.
func (t *trial) walk(k *reader, role faulttree.Role) ([]ending, error) {
	at, err := faulttree.Begin(t.forest, faulttree.Ref{Tree: t.plan.tree.ID}, role, t.face.Model)
	if err != nil {
		return nil, err
	}
	read := func(at faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error) {
		proofs := 0
		if k.draw.misuse.mistake != 0 {
			proofs = proved(at)
		}
		if t.options.Wrong == 0 {
			return k.reading(q, proofs)
		}
		return k.shown(at, q, t.options.Wrong, func(q faulttree.Quantity) (faulttree.Reading, error) { return k.reading(q, proofs) })
	}
	walks, err := vehicle.Walker{Read: read, Value: k.vehicle.Taken, Vehicle: k.vehicle}.Ends(at)
	if err != nil {
		return nil, err
	}
	ends := make([]ending, len(walks))
	for i, w := range walks {
		result, _ := w.Finding()
		endpoint, known := t.endpointAt[result.Ref]
		if !known {
			return nil, fmt.Errorf("a walk ended at the unknown finding %s", result.Ref)
		}
		ends[i] = ending{endpoint: endpoint, signal: result.Finding.Signal, taken: takenBy(w, t.forest.Weights), walk: w}
	}
	return ends, nil
}

// proved is how often a walk has proved its meter.
func proved(at faulttree.Walk) int {
	n := 0
	for _, e := range at.Trail() {
		for _, v := range at.Asked(e.Step).Measure {
			if t := v.Quantity.Proves; t == faulttree.ProvesVoltsAC || t == faulttree.ProvesVoltsDC {
				n++
			}
		}
	}
	return n
}

// describeWalk tells a walk by its readings: "first-minute; prove-meter 119.8
// V; …".
func (w *trial) describeWalk(e ending) string {
	var b strings.Builder
	for i, entry := range e.walk.Trail() {
		if i > 0 {
			b.WriteString("; ")
		}
		b.WriteString(entry.Step.Step)
		if entry.Answer.Choice != "" {
			b.WriteString(" = " + entry.Answer.Choice)
		}
		step := w.forest.Step(entry.Step)
		for k, r := range entry.Answer.Readings {
			if k > 0 {
				b.WriteString(",")
			}
			b.WriteString(" " + r.Show(step.Measure[k].Quantity.Unit))
		}
		for _, g := range entry.Passed {
			b.WriteString(" (known by then " + g.Step.Step)
			if g.Outcome.Label != "" {
				b.WriteString(": " + g.Outcome.Label)
			}
			b.WriteString(")")
		}
	}
	return b.String()
}

// Seen is one draw of a trial made again.
type Seen struct {
	Vehicle string         // what it is, in words
	Path    string         // the walk to the finding asked for, in words
	Wrong   []WrongReading // what went wrong once on it
}

// see makes a draw of the trial again: the same options give the same vehicle and
// the same walks. It shows the way to a finding, in whichever role reaches it.
func (w *worker) see(number, finding int) (Seen, error) {
	s, ok := w.plan.stratumOf(number)
	if !ok {
		return Seen{}, fmt.Errorf("the trial has no draw %d", number)
	}
	k, err := w.before(s, number)
	if err != nil {
		return Seen{}, err
	}
	seen := Seen{Vehicle: k.draw.describe()}
	for _, role := range roles {
		ends, err := w.walk(k, role)
		if err != nil {
			return Seen{}, err
		}
		for _, e := range ends {
			if e.endpoint == finding {
				seen.Path = w.describeWalk(e)
				seen.Wrong, err = w.wrongIn(k, e.walk)
				return seen, err
			}
		}
	}
	return Seen{}, fmt.Errorf("draw %d does not end at %s", number, w.endpoints[finding].ref)
}

// example words a draw and its way to a finding.
func (w *worker) example(number, finding int) (vehicle, path string, err error) {
	s, err := w.see(number, finding)
	return s.Vehicle, s.Path, err
}
