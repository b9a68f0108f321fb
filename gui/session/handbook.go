package session

import (
	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/visit"
)

// Book is the handbook in use; nil until one was read.
func (s *Session) Book() *content.Library { return s.book }

// Scenario finds a scenario of the handbook in use, or one that was handed out;
// nil if there is neither.
func (s *Session) Scenario(id string) *content.Scenario {
	if handed := s.handed[id]; handed != nil {
		return handed
	}
	return s.book.Scenarios[id]
}

// HandOut takes a scenario that was handed out as a file, for as long as the
// handbook that it was read with is in use.
func (s *Session) HandOut(handed *content.Scenario) { s.handed[handed.ID] = handed }

// UseBook puts a handbook that was read in use. The visit under way goes on in
// it: its answers are walked again over the new trees, and what no longer fits
// is told. If the new handbook cannot go on with it at all, the visit is let
// go of and its record stays.
func (s *Session) UseBook(book *content.Library) (said string) {
	s.book, s.handed, s.tasks = book, map[string]*content.Scenario{}, nil
	v := s.visit
	if v == nil {
		return ""
	}
	rec, err := visit.Resume(v.file, v.rec.Visit(), book.Forest)
	if err != nil {
		said = "This handbook cannot go on with the visit that was under way; its record is kept. " + view.Sentence(err.Error())
		return join(said, s.Close())
	}
	s.visit = &Visit{file: v.file, rec: rec, reason: v.reason, failed: v.failed}
	return s.visit.lapsed()
}
