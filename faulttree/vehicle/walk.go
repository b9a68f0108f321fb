package vehicle

import (
	"fmt"
	"math"

	"faultwright/faulttree"
)

// Walker lets a vehicle answer the steps of a tree. Acts count as done.
type Walker struct {
	// Vehicle answers what is known without a meter: facts, and the choices that
	// depend on which parts stand open or are hot.
	Vehicle *Vehicle
	// Read is what the meter shows of a quantity to somebody who has come so far.
	Read func(at faulttree.Walk, q faulttree.Quantity) (faulttree.Reading, error)
	// Value is what a quantity is without a meter, for the choices that depend
	// on one; ok is false where it is nothing.
	Value func(q faulttree.Quantity) (value float64, ok bool, err error)
}

// mostAnswers bounds the answers of all ways together. A proved tree ends long
// before.
const mostAnswers = 3000

// Ends walks on from at to every ending: one, or several where an observe step
// leaves the choice open.
func (w Walker) Ends(at faulttree.Walk) ([]faulttree.Walk, error) {
	var ends []faulttree.Walk
	err := at.Fork(mostAnswers, w.answers, func(end faulttree.Walk) error {
		ends = append(ends, end)
		return nil
	})
	return ends, err
}

// answers is what the vehicle answers to the step a walk stands on.
func (w Walker) answers(at faulttree.Walk) ([]faulttree.Answer, error) {
	switch step := at.Step(); step.Kind {
	case faulttree.KindObserve:
		return w.Choices(step)
	case faulttree.KindFact:
		choice := w.Vehicle.Fact(step.ID)
		if choice == "" {
			return nil, fmt.Errorf("the rig %s does not state the fact %s, which the tree %s asks", w.Vehicle.Rig().ID, step.ID, at.Start().Tree)
		}
		return []faulttree.Answer{{Choice: choice}}, nil
	case faulttree.KindMeasure:
		a := faulttree.Answer{Readings: make([]faulttree.Reading, 0, len(step.Measure))}
		for _, v := range step.Measure {
			r, err := w.Read(at, v.Quantity)
			if err != nil {
				return nil, err
			}
			a.Readings = append(a.Readings, r)
		}
		return []faulttree.Answer{a}, nil
	}
	return []faulttree.Answer{{Done: true}}, nil
}

// Choices lists what an observer may choose at an observe step who knows the
// vehicle.
func (w Walker) Choices(step *faulttree.Step) ([]faulttree.Answer, error) {
	var failed error
	fit := step.Fitting(w.observed(&failed))
	return fit, failed
}

// Concerns reports whether the vehicle has what brings a reader to a tree.
func (w Walker) Concerns(tree *faulttree.Tree) (bool, error) {
	var failed error
	is := tree.Concerns(w.observed(&failed))
	return is, failed
}

// observed is what an observer sees who knows the vehicle. What goes wrong while
// he looks is put into failed.
func (w Walker) observed(failed *error) faulttree.Observed {
	holds := func(when faulttree.When) bool {
		value, ok, err := w.Value(when.Quantity)
		if err != nil {
			*failed = err
		}
		size, _ := when.Quantity.Judged(amount(value), amount(value))
		return ok && when.Span.Contains(size)
	}
	seen := func(look func(part string) (bool, error)) func(string) bool {
		return func(part string) bool {
			is, err := look(part)
			if err != nil {
				*failed = err
			}
			return is
		}
	}
	return faulttree.Observed{Holds: holds, Open: seen(w.Vehicle.Opened), Hot: seen(w.Vehicle.Hot)}
}

// amount is a value as exact as a limit is; what no limit reaches, an open
// circuit in ohms among it, is the most.
func amount(value float64) faulttree.Amount {
	const most = 4e9
	return faulttree.Amount(math.Round(max(-most, min(most, value)) * float64(faulttree.One)))
}
