package faulttree

// Passed is a chart that a walk went past without asking: what was read before
// decided it.
type Passed struct {
	Step    Ref
	Outcome Outcome
}

// worst is the gravest signal of an answer and of the charts passed after it.
func (e Entry) worst() Signal {
	worst := e.Outcome.Signal
	for _, p := range e.Passed {
		worst = max(worst, p.Outcome.Signal)
	}
	return worst
}

// Told words a chart that was passed by its title and the label of the row, or
// what that leads to: "The legs and the ground → nothing at all".
func (f *Forest) Told(p Passed) string {
	title, label := p.Step.String(), p.Outcome.Label
	if s := f.Step(p.Step); s != nil {
		title = s.Title
	}
	if s := f.Step(p.Outcome.To); label == "" && s != nil {
		label = s.Title
	}
	return title + " → " + label
}
