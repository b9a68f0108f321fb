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
		if d, ends := view.DamageEnds(a.session.Book(), w); ends && !a.folds(place.Walk(at.ID, d.Answer)).Open(wentOn) {
			return a.damagePage(at, v, d)
		}
	}
	return a.askingPage(at, v)
}

// wentOn is under which name it is remembered that the reader went on after damage
// was seen.
const wentOn = "went on after damage"

// damagePage is where a walk is over since damage was seen: what to do. Going on
// is a choice of its own, and no key is upon it.
func (a *Area) damagePage(at place.Location, v *session.Visit, d view.Damaged) frame.Page {
	on := look.NewButton("Go on all the same", func() { a.folds(place.Walk(at.ID, d.Answer)).Unfold(wentOn) })
	return frame.Page{
		Body: append(readOnlyNotice(v), look.NewBanner(faulttree.Danger, d.Title, look.Numbered(d.Do...)),
			look.NewText("This walk is over here. Going on is for readings elsewhere, on what is whole; nothing counts as without fault any more.")),
		Side: a.beside(v, nil),
		Foot: footOf(a.window.Narrow(), nil, nil, nil, []fyne.CanvasObject{
			look.NewPrimary("Make the sheet", func() { a.window.Go(place.Sheet(at.ID)) }),
			on, look.NewButton("Back", a.stepBack(at))}, nil),
	}
}

// arrive opens the visit of a place. What was marked at the step where it
// stands is not marked any more: the Enter that led here must not take it.
func (a *Area) arrive(at place.Location) (string, error) {
	said, err := a.openVisit(at)
	if v := a.session.UnderWay(at.ID); err == nil && v != nil && v.Present().Same(at) {
		a.session.Keep(at, markDraft, "")
	}
	if v := a.session.UnderWay(at.ID); err == nil && v != nil {
		a.findPossible(v)
	}
	return said, err
}

// readOnlyNotice says that a visit is practice, and why it can only be looked at; nothing if it can be
// answered.
func readOnlyNotice(v *session.Visit) []fyne.CanvasObject {
	var out []fyne.CanvasObject
	if v.Practice() && !v.Sample() {
		out = append(out, look.NewCallout(faulttree.Notice, look.NewText("Practice: this walk is about no real vehicle.")))
	}
	if v.ReadOnly() {
		out = append(out, look.NewCallout(faulttree.Notice, look.NewText(v.Reason())))
	}
	return out
}

// beside is what stands beside a page of a visit: the answers so far, what was
// found before a repair, and cards.
func (a *Area) beside(v *session.Visit, cards []view.Link) []fyne.CanvasObject {
	out := parts.Trail(a.window, v.ID(), view.Trail(a.session.Book(), v.Walk()), a.folds(place.Walk(v.ID(), 0)))
	if found := a.foundBefore(v); found != nil {
		out = append(out, found)
	}
	out = append(out, a.stillPossible(v))
	out = append(out, look.NewLink(seeWhole, func() { a.window.Go(place.Flow(v.Walk().Tree(), v.ID())) }))
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
