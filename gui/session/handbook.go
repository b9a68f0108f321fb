package session

import (
	"faultwright/content"
	"faultwright/content/view"
	"faultwright/faulttree/visit"
)

// Book is the handbook in use; nil until one was read.
func (s *Session) Book() *content.Library { return s.book }

// UseBook puts a handbook that was read in use. The visit under way goes on in
// it: its answers are walked again over the new trees, and what no longer fits
// is told. If the new handbook cannot go on with it at all, the visit is let
// go of and its record stays.
func (s *Session) UseBook(book *content.Library) (said string) {
	s.book = book
	v := s.visit
	if v == nil {
		return ""
	}
	rec, err := visit.Resume(v.file, v.rec.Visit(), book.Forest)
	if err != nil {
		said = "This handbook cannot go on with the visit that was under way; its record is kept. " + view.Sentence(err.Error())
		return join(said, s.Close())
	}
	s.visit = &Visit{file: v.file, rec: rec, reason: v.reason}
	return s.visit.lapsed()
}
