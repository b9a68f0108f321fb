package walk

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/fits"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// possible is what still fits the readings of the walk on show, beside its steps.
// It is folded at first for an owner, who is led by the tree.
type possible struct {
	work   *fits.Work
	chosen bool // the reader has folded or unfolded it
	open   bool
	box    *fyne.Container // on the page shown; nil where it is on none
	visit  *session.Visit
}

// isOpen reports whether it is unfolded.
func (a *Area) isOpen() bool {
	if a.possible.chosen {
		return a.possible.open
	}
	return a.session.Settings().Role == faulttree.Qualified
}

// findPossible works out what fits a visit, folded or not: so it is there at once
// when it is unfolded, and at the finding, which must not be milder.
func (a *Area) findPossible(v *session.Visit) { a.possible.work.Find(v.Account(), false) }

// stillPossible is what fits the walk of a visit, or the way to unfold it.
func (a *Area) stillPossible(v *session.Visit) fyne.CanvasObject {
	a.possible.box, a.possible.visit = look.Stack(8), v
	a.showPossible()
	return a.possible.box
}

// showPossible draws it anew, without moving the keyboard.
func (a *Area) showPossible() {
	p := &a.possible
	p.box.Objects = []fyne.CanvasObject{look.NewCaption("Still possible")}
	turn := func() {
		p.chosen, p.open = true, !a.isOpen()
		a.window.Render()
	}
	if !a.isOpen() {
		p.box.Add(look.NewLink("Show what fits the readings so far", turn))
		p.box.Refresh()
		return
	}
	account := p.visit.Account()
	found, some, current := p.work.Of(account)
	switch {
	case !p.work.Counts(account):
		p.box.Add(look.NewSoft("Nothing that was read so far tells anything yet."))
	case !some || !current:
		p.box.Add(look.NewSoft("Working out what fits the readings so far."))
	case found.Err != nil:
		p.box.Add(look.NewSoft(p.work.Why(account, found.Err)))
	default:
		p.box.Add(parts.StillPossible(a.window, found.Suspects, p.visit.ID()))
	}
	p.box.Add(look.NewLink("Fold it", turn))
	p.box.Refresh()
}

// possibleFound shows what was worked out, where it is on show. A finding is drawn
// anew, for it may be milder than what fits.
func (a *Area) possibleFound() {
	at := a.window.Here()
	if at.Page != place.WalkPage || a.possible.box == nil {
		return
	}
	if v := a.session.UnderWay(at.ID); v != nil && v.Walk().Ended() && at.Step >= len(v.Walk().Trail()) {
		a.window.Render()
		return
	}
	a.showPossible()
	a.window.Relayout()
}

// parting is where a finding and what fits its readings part; the zero value where
// they agree, and until it is worked out.
func (a *Area) parting(v *session.Visit) view.Parting {
	found, _, current := a.possible.work.Of(v.Account())
	r, ended := v.Walk().Finding()
	if !current || found.Err != nil || !ended {
		return view.Parting{}
	}
	return view.PartingOf(a.session.Book(), r, found.Suspects)
}

// partingLine says it above the finding; nothing where they agree.
func partingLine(p view.Parting) []fyne.CanvasObject {
	if p.Text == "" {
		return nil
	}
	return []fyne.CanvasObject{look.NewCallout(p.Signal(), look.NewText(p.Text))}
}
