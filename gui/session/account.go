package session

import (
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
)

// Account is what the reader has told of a vehicle, outside of a visit. It outlives
// every page, and another handbook.
func (s *Session) Account() view.Account { return s.account }

// Tell puts another account in its place.
func (s *Session) Tell(a view.Account) { s.account = a }

// Reasoning says what fits an account, by the handbook in use and the reader's
// meter; nil until a handbook was read.
func (s *Session) Reasoning() *scenes.Reasoning {
	if s.book == nil {
		return nil
	}
	if r := s.reasoning; r == nil || r.Library() != s.book || r.Meter() != s.settings.Meter {
		s.reasoning = scenes.NewReasoning(s.book, s.settings.Meter, s.options.Draw)
	}
	return s.reasoning
}

// BeginTold starts a visit of a tree with what an account tells: its facts, and
// each of its readings once, but for those that are doubtful or another's. It leads to the first step that still needs one. If
// the visit begins and they cannot be recorded, the outcome is the visit at its
// first step and the reason told.
func (s *Session) BeginTold(tree string, a view.Account) (Outcome, error) {
	begun, err := s.Begin(faulttree.Ref{Tree: tree})
	if err != nil {
		return Outcome{}, err
	}
	a, left := a.ForWalk(s.book, s.settings.Meter)
	if left > 0 {
		begun.Said = join(begun.Said, view.Count(left, "reading")+" not sure of, or told by somebody else, left out: the walk asks for what it needs.")
	}
	next, err := s.Supply(begun.To.ID, faulttree.Supplied{Readings: a.Readings(), Facts: a.Facts, Once: true})
	if err != nil {
		begun.Said = join(begun.Said, err.Error())
		return begun, nil
	}
	next.Said = join(begun.Said, next.Said)
	return next, nil
}
