package faulttree

import (
	"fmt"
	"maps"
	"slices"
)

// Supplied are answers known in advance: a sheet of readings taken in any
// order, or a file of them. A single reading of a quantity answers every step
// that asks for it, unless Once is set; several are used in order and then run
// out.
type Supplied struct {
	Readings map[string][]Reading `json:"readings,omitempty"` // by quantity id
	Choices  map[Ref]string       `json:"choices,omitempty"`
	Facts    map[string]string    `json:"facts,omitempty"`     // by id, the choice that holds
	ActsDone bool                 `json:"acts_done,omitempty"` // act steps count as done
	Once     bool                 `json:"once,omitempty"`      // each reading was taken once, and answers one step
}

// mostSupplied is how many steps one Supply answers. A proved tree ends long
// before; one whose steps lead in a circle would never.
const mostSupplied = 1000

// Supply answers steps as far as the supplied answers go. In each tree that the
// walk comes into every supplied reading meets the danger limits first: one that
// may hurt is judged at once, at the step that measures it, so that the STOP comes
// before all else. What only another tree calls a danger is told by
// [Walk.Reached]; all that no step has asked for stays beside the walk.
// next is the quantity or step that is wanted then, "" at a finding.
func (w Walk) Supply(s Supplied) (_ Walk, next string, err error) {
	if err := w.contradicted(s.Facts); err != nil {
		return w, "", err
	}
	w = w.Beside(s.Readings)
	used := map[string]int{}
	for answered := 0; !w.Ended(); answered++ {
		if answered == mostSupplied {
			return w, "", fmt.Errorf("the readings lead in a circle at step %s", w.at)
		}
		if _, stopped := w.Stop(); !stopped {
			next, found, err := w.judgeDanger(w.at.Tree, s, used)
			if err != nil {
				return w, "", err
			}
			if found {
				w = next
				continue
			}
		}
		step, a, ok := w.suppliedAnswer(s, used)
		if !ok {
			return w, w.Wants(), nil
		}
		if w, err = w.AnswerTo(step, a); err != nil {
			return w, "", err
		}
	}
	return w, "", nil
}

// contradicted says where a fact is given otherwise than the walk's own tree
// has it.
func (w Walk) contradicted(given map[string]string) error {
	if w.forest == nil {
		return nil
	}
	t := w.forest.Tree(w.start.Tree)
	for _, id := range slices.Sorted(maps.Keys(given)) {
		if t != nil && t.Facts[id] != "" && t.Facts[id] != given[id] {
			return fmt.Errorf("the tree %s is for %s: %s, and %s is given", t.ID, id, t.Facts[id], given[id])
		}
	}
	return nil
}

// suppliedAnswer is the step that is answered next and its answer: what the walk
// asks, or at a chart another column of it; false where nothing of it is
// supplied.
func (w Walk) suppliedAnswer(s Supplied, used map[string]int) (step Ref, a Answer, ok bool) {
	asked := w.Step()
	if a, ok := asked.answerFrom(s, used); ok {
		return asked.Ref(), a, true
	}
	at := w.step()
	if at.Kind != KindChart || asked.Kind == KindFact {
		return step, a, false
	}
	u := at.Under(w.Fact)
	for c, known := range w.knownAt(u) {
		if known != nil {
			continue
		}
		column := u.column(c, nil)
		if a, ok := column.answerFrom(s, used); ok {
			return column.Ref(), a, true
		}
	}
	return step, a, false
}

// answerFrom builds the answer to step; false where what it asks is not supplied.
func (step *Step) answerFrom(s Supplied, used map[string]int) (a Answer, ok bool) {
	switch step.Kind {
	case KindAct:
		a.Done = s.ActsDone
		return a, a.Done
	case KindObserve:
		a.Choice = s.Choices[step.Ref()]
		return a, a.Choice != ""
	case KindFact:
		a.Choice = s.Facts[step.ID]
		return a, a.Choice != ""
	case KindMeasure:
		for _, v := range step.Measure {
			id := v.Quantity.ID
			list := s.Readings[id]
			n := used[id]
			switch {
			case len(list) == 1 && !s.Once:
				n = 0
			case n >= len(list):
				return a, false
			}
			a.Readings = append(a.Readings, list[n])
		}
		for _, v := range step.Measure {
			used[v.Quantity.ID]++
		}
		return a, true
	}
	return a, false
}
