package parts

import (
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Entry is text entry n of a place, with what was typed there before, or else
// what is known.
func Entry(w *frame.Frame, s *session.Session, at place.Location, n int, hint, known string) *look.Field {
	f := w.Field(hint)
	text, typed := s.Draft(at, n)
	if !typed {
		text = known
	}
	f.SetText(text)
	f.OnChanged = func(text string) { s.Keep(at, n, text) }
	return f
}
