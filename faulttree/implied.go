package faulttree

// Implied is the signal of an exit of s to which its document gives none: that
// of what it leads to. A finding gives its own, a STOP danger, any other step
// none. A reading that could not be taken has at least warning, so that nothing
// counts as without fault because an author forgot to say so. What leads
// nowhere counts as danger.
func (f *Forest) Implied(s *Step, e *Exit) Signal {
	to, implied := f.Step(e.To), NoSignal
	switch {
	case to == nil || to.Stop():
		return Danger
	case to.Kind == KindFinding:
		implied = to.Finding.Signal
	}
	if e == &s.NotPossible {
		implied = max(implied, Warning)
	}
	return implied
}

// EachExit calls visit for every exit of s that is set, in the order of Exits.
func (s *Step) EachExit(visit func(*Exit)) {
	var all []*Exit
	for i := range s.Branches {
		all = append(all, &s.Branches[i].Exit)
	}
	if s.Chart != nil {
		for i := range s.Chart.Rows {
			all = append(all, &s.Chart.Rows[i].Exit)
		}
	}
	for i := range s.Choices {
		all = append(all, &s.Choices[i].Exit)
	}
	for _, e := range append(all, &s.OverRange, &s.NotPossible, &s.NotApplicable, &s.Act.Exit, &s.Then) {
		if e.Set() {
			visit(e)
		}
	}
}
