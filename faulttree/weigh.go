package faulttree

// Weighing is one weigh step that a walk passed: the last readings of some
// quantities, looked at again together. It takes no reading and asks nothing.
type Weighing struct {
	Step    Ref
	Outcome Outcome
}

// weigh judges a weigh step by the last reading of each of its quantities, that
// of the entry e, which is about to join the trail, among them. What was never
// read counts as not possible.
func (w Walk) weigh(s *Step, e Entry) (Outcome, error) {
	readings := make([]Reading, len(s.Measure))
	for i, v := range s.Measure {
		readings[i] = w.last(v.Quantity.ID, e)
	}
	limits := func(string) (Amount, bool) { return 0, false }
	if t := w.forest.Trees[s.Tree]; t != nil {
		limits = t.DangerLimit
	}
	return s.Judge(readings, w.meter, limits)
}

// last is the last reading of a quantity, e included.
func (w Walk) last(quantity string, e Entry) Reading {
	for i := len(w.trail); i >= 0; i-- {
		if i < len(w.trail) {
			e = w.trail[i]
		}
		s := w.Asked(e.Step)
		if s == nil {
			continue
		}
		for k := min(len(s.Measure), len(e.Answer.Readings)) - 1; k >= 0; k-- {
			if s.Measure[k].Quantity.ID == quantity {
				return e.Answer.Readings[k]
			}
		}
	}
	return NotTaken("not read on the way here")
}

// worst is the gravest signal of an answer and of what was weighed after it.
func (e Entry) worst() Signal {
	worst := e.Outcome.Signal
	for _, g := range e.Weighed {
		worst = max(worst, g.Outcome.Signal)
	}
	return worst
}

// Weighed words a weighing by the title of its step and the label of the branch
// taken, or what that leads to: "Neutral and ground → nothing at all".
func (f *Forest) Weighed(g Weighing) string {
	title, label := g.Step.String(), g.Outcome.Label
	if s := f.Step(g.Step); s != nil {
		title = s.Title
	}
	if s := f.Step(g.Outcome.To); label == "" && s != nil {
		label = s.Title
	}
	return title + " → " + label
}
