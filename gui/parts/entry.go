package parts

import (
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// Drafts keep what is typed and not taken yet.
type Drafts interface {
	Draft(at place.Location, n int) (string, bool)
	Keep(at place.Location, n int, text string)
}

// Entry is text entry n of a place, with what was typed there before, or else
// what is known.
func Entry(w Window, d Drafts, at place.Location, n int, hint, known string) *look.Field {
	f := w.Field(hint)
	text, typed := d.Draft(at, n)
	if !typed {
		text = known
	}
	f.SetText(text)
	f.OnChanged = func(text string) { d.Keep(at, n, text) }
	return f
}
