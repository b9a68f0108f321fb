package faulttree

import (
	"fmt"
	"maps"
	"slices"
	"sort"
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

// Supply answers steps as far as the supplied answers go. Before that every
// supplied reading meets the danger limits: one that may hurt is judged at
// once, at the step that measures it, so that the STOP comes before all else.
// next is the quantity or step that is wanted then, "" at a finding.
func (w Walk) Supply(s Supplied) (_ Walk, next string, err error) {
	if err := w.contradicted(s.Facts); err != nil {
		return w, "", err
	}
	used := map[string]int{}
	if _, stopped := w.Stop(); !stopped && !w.Ended() {
		if w, err = w.judgeHarmfulFirst(s, used); err != nil {
			return w, "", err
		}
	}
	for answered := 0; !w.Ended(); answered++ {
		if answered == mostSupplied {
			return w, "", fmt.Errorf("the readings lead in a circle at step %s", w.at)
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
	t := w.forest.Trees[w.start.Tree]
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

// judgeHarmfulFirst jumps to the first step that measures a supplied quantity
// which may hurt, and answers it.
func (w Walk) judgeHarmfulFirst(s Supplied, used map[string]int) (Walk, error) {
	var ids []string
	for id := range s.Readings {
		ids = append(ids, id)
	}
	sort.Strings(ids)
	trees := append([]string{w.at.Tree}, w.forest.IDs()...)
	for _, tree := range trees {
		t := w.forest.Trees[tree]
		for _, id := range ids {
			limit, ok := t.DangerLimit(id)
			if !ok {
				continue
			}
			step, at := t.dangerStep(id)
			if step == nil {
				continue
			}
			k := slices.IndexFunc(s.Readings[id], func(r Reading) bool { return w.meter.MayHurt(r, step.Measure[at].Quantity, limit) })
			if k < 0 {
				continue
			}
			w.at, _, _ = step.Ref().Chart()
			w.trail = slices.Clip(w.trail)
			return w.appendAnswer(step, step.answerHarmful(s, used, at, k))
		}
	}
	return w, nil
}

// answerHarmful answers step by reading k of its variable at, which may hurt, and
// by what else is supplied of it; the rest was not taken, which such a reading
// outranks.
func (step *Step) answerHarmful(s Supplied, used map[string]int, at, k int) (a Answer) {
	for i, v := range step.Measure {
		id, n := v.Quantity.ID, 0
		if i == at {
			n = k
		}
		if n >= len(s.Readings[id]) {
			a.Readings = append(a.Readings, NotTaken("not supplied"))
			continue
		}
		a.Readings = append(a.Readings, s.Readings[id][n])
		if s.Once || len(s.Readings[id]) > 1 {
			used[id] = n + 1
		}
	}
	return a
}

// dangerStep is the first step open to anyone that measures this quantity, that of
// a column of a chart among them, and where in its Measure; one that measures it
// alone before one that measures others too. It is nil where there is none.
func (t *Tree) dangerStep(quantity string) (step *Step, at int) {
	for _, s := range t.Steps {
		if s.For != Owner || s.Kind != KindMeasure && s.Kind != KindChart {
			continue
		}
		for i, v := range s.Measure {
			switch {
			case v.Quantity.ID != quantity:
			case s.Kind == KindChart:
				return s.column(i, nil), 0
			case len(s.Measure) == 1:
				return s, 0
			case step == nil:
				step, at = s, i
			}
		}
	}
	return step, at
}
