package walk

import (
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// cannotPage asks why a reading cannot be taken.
func (a *Area) cannotPage(at place.Location, v *session.Visit) frame.Page {
	w := v.Walk()
	s := w.Step()
	if s == nil || s.Kind != faulttree.KindMeasure || at.Step != len(w.Trail()) {
		return a.window.Missing("This reading is not asked for any more.")
	}
	give := func(reason string) { a.answer(v, view.CannotMeasure(s, reason)) }
	grid := look.Grid(300, 14, 2)
	for i, reason := range view.Reasons() {
		grid.Add(look.NewChoice(i+1, reason, "", func() { give(reason) }))
	}
	other := a.entry(at, 0, "Another reason, in your own words", "")
	other.OnSubmitted = func(text string) {
		if text != "" {
			give(text)
		}
	}
	return frame.Page{Body: append(readOnlyNotice(v),
		parts.Head(a.window, s.Title, "Why can it not be measured?"),
		look.NewText("A reading that is not taken clears nothing; the walk goes on to the worse side. A display of OL is a reading: type OL."),
		grid, other,
		look.Row(12, look.NewButton("Give this reason", func() { other.OnSubmitted(other.Text) }), look.NewButton("Back", a.window.Back)))}
}

// entry is entry n of a place, with what was typed there before, or else what
// is known.
func (a *Area) entry(at place.Location, n int, hint, known string) *look.Field {
	return parts.Entry(a.window, a.session, at, n, hint, known)
}
