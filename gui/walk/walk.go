package walk

import (
	"fmt"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// walkPage shows a visit: an earlier answer, the present step, or the finding.
func (a *Area) walkPage(at place.Location, v *session.Visit) frame.Page {
	w := v.Walk()
	if at.Step >= len(w.Trail()) {
		if f, ok := view.FindingOf(a.session.Book(), w); ok {
			return a.findingPage(v, f)
		}
		at = v.Present()
	}
	return a.askingPage(at, v)
}

// arrive opens the visit of a place. What was marked at the step where it
// stands is not marked any more: the Enter that led here must not take it.
func (a *Area) arrive(at place.Location) (string, error) {
	said, err := a.openVisit(at)
	if v := a.session.UnderWay(at.ID); err == nil && v != nil && v.Present().Same(at) {
		a.session.Keep(at, markDraft, "")
	}
	return said, err
}

// readOnlyNotice says why a visit can only be looked at; nothing if it can be
// answered.
func readOnlyNotice(v *session.Visit) []fyne.CanvasObject {
	if !v.ReadOnly() {
		return nil
	}
	return []fyne.CanvasObject{look.NewCallout(faulttree.Notice, look.NewText(v.Reason()))}
}

// beside is what stands beside a page of a visit: the answers so far, what was
// found before a repair, and cards.
func (a *Area) beside(v *session.Visit, cards []view.Link) []fyne.CanvasObject {
	out := parts.Trail(a.window, v.ID(), view.Trail(a.session.Book(), v.Walk()), a.folds(place.Walk(v.ID(), 0)))
	if found := a.foundBefore(v); found != nil {
		out = append(out, found)
	}
	return append(out, parts.Links(a.window, "Cards", cards)...)
}

// folds remembers what was unfolded at a place, as long as the window is open.
func (a *Area) folds(at place.Location) parts.Folds { return folds{a, at} }

type folds struct {
	a  *Area
	at place.Location
}

func (f folds) key(name string) string { return fmt.Sprint(f.at.ID, " ", f.at.Step, " ", name) }

func (f folds) Open(name string) bool { return f.a.unfolded[f.key(name)] }

func (f folds) Unfold(name string) {
	f.a.unfolded[f.key(name)] = true
	f.a.window.Render()
}
