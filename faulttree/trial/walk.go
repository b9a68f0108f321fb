package trial

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
)

// ending is where one walk ended.
type ending struct {
	endpoint int // index into trial.findings
	readings int // how many the walk took
	walk     faulttree.Walk
}

// longest bounds the answers of all ways of a draw. A proved tree ends long
// before.
const longest = 3000

// walker sends one vehicle after another down the tree.
type walker struct {
	*trial
	*vehicle
	ends []ending
	open map[string]bool // what stands open in the vehicle; nil until somebody looks
}

// walk finds every ending of a draw for one role: one, or several where an
// observe step leaves the choice open.
func (w *walker) walk(role faulttree.Role) ([]ending, error) {
	w.ends = w.ends[:0]
	at, err := faulttree.Begin(w.forest, faulttree.Ref{Tree: w.plan.tree.ID}, role, w.face.Model)
	if err != nil {
		return nil, err
	}
	if err := at.Fork(longest, w.answers, w.end); err != nil {
		return nil, err
	}
	return w.ends, w.vehicle.err
}

// end notes where a walk ended.
func (w *walker) end(at faulttree.Walk) error {
	result, _ := at.Finding()
	i, known := w.endpointAt[result.Ref]
	if !known {
		return fmt.Errorf("a walk ended at the unknown finding %s", result.Ref)
	}
	w.ends = append(w.ends, ending{endpoint: i, readings: at.Readings(), walk: at})
	return nil
}

// answers is what the vehicle answers to the step a walk stands on.
func (w *walker) answers(at faulttree.Walk) ([]faulttree.Answer, error) {
	switch step := at.Step(); step.Kind {
	case faulttree.KindObserve:
		return step.Fitting(w.holds, w.stands), nil
	case faulttree.KindMeasure:
		proofs := 0
		if w.draw.misuse.mistake != 0 {
			proofs = proved(at)
		}
		a := faulttree.Answer{Readings: make([]faulttree.Reading, 0, len(step.Measure))}
		for _, v := range step.Measure {
			a.Readings = append(a.Readings, w.reading(v.Quantity, proofs))
		}
		return []faulttree.Answer{a}, nil
	}
	return []faulttree.Answer{{Done: true}}, nil
}

// holds reports whether a condition on a choice holds by the solved value.
func (w *walker) holds(when faulttree.When) bool {
	value, ok := w.value(when.Quantity)
	return ok && when.Span.Contains(amount(value))
}

// stands reports whether a device stands open in the vehicle as it failed.
func (w *walker) stands(device string) bool {
	if w.open == nil && w.vehicle.err == nil {
		w.open, w.vehicle.err = w.vehicle.bench.Opened()
	}
	return w.open[device]
}

// proved is how often a walk has proved its meter.
func proved(at faulttree.Walk) int {
	n := 0
	for _, e := range at.Trail() {
		for _, v := range at.Forest().Step(e.Step).Measure {
			if v.Quantity.ID == faulttree.MeterProof {
				n++
			}
		}
	}
	return n
}

// words tells a walk by its readings: "first-minute; prove-meter 119.8 V; …".
func (w *trial) words(e ending) string {
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
		for _, g := range entry.Weighed {
			b.WriteString(" (weighed " + g.Step.Step)
			if g.Outcome.Label != "" {
				b.WriteString(": " + g.Outcome.Label)
			}
			b.WriteString(")")
		}
	}
	return b.String()
}
