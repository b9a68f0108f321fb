package faulttree

import "slices"

// Outrank answers a step of a tree out of its turn by given figures, of which one
// may hurt by a danger limit of that tree. It reports false where none may, and
// after a STOP or at the end, where nothing comes before what is known already.
func (w Walk) Outrank(tree string, given map[string][]Reading) (next Walk, ok bool) {
	if _, stopped := w.Stop(); stopped || w.Ended() {
		return w, false
	}
	next, ok, err := w.judgeDanger(tree, Supplied{Readings: given}, map[string]int{})
	return next, ok && err == nil
}

// judgeDanger answers out of its turn the step of a tree that measures a given
// figure which may hurt by that tree's limits and has not been taken yet: of
// several the one whose quantity the tree declares first. Facts given that the
// step needs are told before.
func (w Walk) judgeDanger(tree string, s Supplied, used map[string]int) (next Walk, found bool, err error) {
	t := w.forest.Trees[tree]
	if t == nil {
		return w, false, nil
	}
	for _, id := range t.Dangers() {
		step, q := w.dangerStep(t, id)
		limit, ok := t.DangerLimit(id)
		k := slices.IndexFunc(s.Readings[id], func(r Reading) bool { return w.meter.MayHurt(r, q, limit) && !w.took(id, r) })
		if step == nil || !ok || k < 0 {
			continue
		}
		if step.Kind == KindChart {
			w, step, err = w.givenColumns(step, id, s, k)
		} else {
			w, err = w.told(step, s.Facts)
		}
		if err != nil {
			return w, false, err
		}
		next, err = w.outOfTurn(step, step.answerHarmful(s, used, id, k))
		return next, err == nil, err
	}
	return w, false, nil
}

// outOfTurn is the walk after an answer to a step at which it does not stand.
func (w Walk) outOfTurn(step *Step, a Answer) (Walk, error) {
	next := w
	next.at, _, _ = step.Ref().Chart()
	next.trail = slices.Clip(w.trail)
	next, err := next.appendAnswer(step, a)
	if err != nil {
		return w, err
	}
	if step, _, _ := step.Ref().Chart(); step != w.at {
		next.trail[len(next.trail)-1].Stood = w.at
	}
	return next, nil
}

// told is the walk with what is given of the facts that a step needs.
func (w Walk) told(step *Step, facts map[string]string) (Walk, error) {
	for _, fact := range step.NeedsFacts() {
		if choice := facts[fact]; choice != "" && w.Fact(fact) == "" {
			next, err := w.AnswerTo(FactRef(fact), Answer{Choice: choice})
			if err != nil {
				return w, err
			}
			w = next
		}
	}
	return w, nil
}

// givenColumns is the step that takes reading k of a quantity which may hurt, a
// column of a chart: by itself where that tells the row, else with whatever is
// given of the facts and of the chart beside it. A figure of what the facts rule
// out may hurt all the same.
func (w Walk) givenColumns(chart *Step, quantity string, s Supplied, k int) (Walk, *Step, error) {
	t := w.forest.Trees[chart.Tree]
	known := w.knownAt(chart)
	alone := chart.Measures(quantity)
	known[alone] = &s.Readings[quantity][k]
	if chart.tells(known, w.meter, t.DangerLimit) {
		return w, chart.column(alone, w.knownAt(chart)), nil
	}
	w, err := w.told(chart, s.Facts)
	u := chart.Under(w.Fact)
	if u.Measures(quantity) < 0 {
		u = chart
	}
	known = w.knownAt(u)
	cs := []int{u.Measures(quantity)}
	for c, v := range u.Measure {
		if c != cs[0] && known[c] == nil && len(s.Readings[v.Quantity.ID]) > 0 && !v.Quantity.Needs.Unmet(w.Fact) {
			cs = append(cs, c)
		}
	}
	return w, u.columns(cs, known), err
}

// answerHarmful answers step by reading k of a quantity, which may hurt, and by
// what else is given of it; the rest was not taken, which such a reading
// outranks.
func (step *Step) answerHarmful(s Supplied, used map[string]int, harmful string, k int) (a Answer) {
	for _, v := range step.Measure {
		id := v.Quantity.ID
		list, n := s.Readings[id], used[id]
		switch {
		case id == harmful:
			n = k
		case len(list) == 1 && !s.Once:
			n = 0
		}
		if n >= len(list) {
			a.Readings = append(a.Readings, NotTaken("not supplied"))
			continue
		}
		a.Readings = append(a.Readings, list[n])
		used[id] = n + 1
	}
	return a
}

// dangerStep is the step of a tree that judges a figure of a quantity which may
// hurt: the one at which the walk stands, where that takes it, else the first.
func (w Walk) dangerStep(t *Tree, quantity string) (*Step, Quantity) {
	if s := w.step(); s != nil && s.Tree == t.ID && !w.handedOver() {
		if step, q := (&Tree{Steps: []*Step{s}}).dangerStep(quantity); step != nil {
			return step, q
		}
	}
	return t.dangerStep(quantity)
}

// DangerStep names the step of t that takes a figure of a quantity which may hurt:
// of a chart its column; where none measures it, the step that says what to do at
// once. It reports false where there is neither.
func (t *Tree) DangerStep(quantity string) (Ref, bool) {
	if id, ok := t.AtOnce[quantity]; ok {
		return Ref{t.ID, id}, true
	}
	s, _ := t.dangerStep(quantity)
	if s != nil && s.Kind == KindChart {
		s = s.column(s.Measures(quantity), nil)
	}
	if s == nil {
		return Ref{}, false
	}
	return s.Ref(), true
}

// dangerStep is the first step open to anyone that measures this quantity, a chart
// among them; one that measures it alone before one that measures others too. It
// is nil where there is none.
func (t *Tree) dangerStep(quantity string) (step *Step, q Quantity) {
	for _, s := range t.Steps {
		i := s.Measures(quantity)
		switch {
		case s.For != Owner || !s.Reads() || i < 0:
		case s.Kind == KindChart || len(s.Measure) == 1:
			return s, s.Measure[i].Quantity
		case step == nil:
			step, q = s, s.Measure[i].Quantity
		}
	}
	return step, q
}
