package trial

import (
	"fmt"
	"strings"

	"faultwright/faulttree"
)

// ending is where one walk ended.
type ending struct {
	finding  int // index into trial.findings
	readings int // how many the walk took
	walk     faulttree.Walk
}

// longest is how many steps a walk may take. A proved tree ends long before.
const longest = 300

// walker sends the draws of one taker down the tree.
type walker struct {
	*trial
	*taker
	ends []ending
}

// walk finds every ending of a draw for one role: one, or several where an
// observe step leaves the choice open.
func (w *walker) walk(role faulttree.Role) ([]ending, error) {
	w.ends = w.ends[:0]
	at, err := faulttree.Begin(w.forest, faulttree.Ref{Tree: w.plan.tree.ID}, role, w.face.Model)
	if err != nil {
		return nil, err
	}
	if err := w.follow(at, 0, 0, 0); err != nil {
		return nil, err
	}
	return w.ends, w.taker.err
}

func (w *walker) follow(at faulttree.Walk, steps, readings, proofs int) error {
	for ; ; steps++ {
		if result, ended := at.Finding(); ended {
			i, known := w.findingAt[result.Ref]
			if !known {
				return fmt.Errorf("a walk ended at the unknown finding %s", result.Ref)
			}
			w.ends = append(w.ends, ending{finding: i, readings: readings, walk: at})
			return nil
		}
		if steps > longest {
			return fmt.Errorf("a walk through %s does not end", w.plan.tree.ID)
		}
		step := at.Step()
		var answer faulttree.Answer
		switch step.Kind {
		case faulttree.KindAct:
			answer.Done = true
		case faulttree.KindObserve:
			choices := w.choices(step)
			for _, c := range choices[1:] {
				next, err := at.Answer(faulttree.Answer{Choice: c})
				if err != nil {
					return err
				}
				if err := w.follow(next, steps+1, readings, proofs); err != nil {
					return err
				}
			}
			answer.Choice = choices[0]
		case faulttree.KindMeasure:
			proved := 0
			for _, v := range step.Measure {
				r := w.reading(v.Quantity, proofs)
				answer.Readings = append(answer.Readings, r)
				if v.Quantity.ID == knownSource {
					proved++
				}
				if r.Quality != faulttree.NotPossible {
					readings++
				}
			}
			proofs += proved
		}
		next, err := at.Answer(answer)
		if err != nil {
			return err
		}
		at = next
	}
}

// choices lists what an observer of this vehicle may choose: those whose
// condition holds by the solved value. Where none holds it is those without a
// condition, and where all have one, any.
func (w *walker) choices(step *faulttree.Step) []string {
	var fits, open, all []string
	for _, c := range step.Choices {
		all = append(all, c.ID)
		if len(c.When) == 0 {
			open = append(open, c.ID)
			continue
		}
		holds := true
		for _, when := range c.When {
			value, ok := w.value(when.Quantity)
			holds = holds && ok && when.Span.Contains(amount(value))
		}
		if holds {
			fits = append(fits, c.ID)
		}
	}
	switch {
	case len(fits) > 0:
		return fits
	case len(open) > 0:
		return open
	}
	return all
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
	}
	return b.String()
}
