// Package suspects is the page for readings that were taken already, in any
// order: what was read, seen and tried beside what fits it. What fits is worked
// out away from the window's thread; an answer to what was told before is shown
// as that, never as the present one.
package suspects

import (
	"strings"

	"faultwright/content"
	"faultwright/content/shorthand"
	"faultwright/content/view"
	"faultwright/gui/fits"
	"faultwright/gui/frame"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the page of suspects.
type Area struct {
	window  *frame.Frame
	session *session.Session

	open    string         // what is asked or shown of what is folded; "" for nothing
	list    shorthandList  // the entry as it was read last
	earlier []view.Account // as told before each change, the last one last
	handed  string         // the list that another page handed over last
	work    *fits.Work
	page    *sheet // what of the page changes while it is shown
}

// shorthandList is a list of readings with the handbook it was read by.
type shorthandList struct {
	*shorthand.List // nil for none
	reader          *shorthand.Reader
	book            *content.Library
	problem         string // why it could not be read at all
}

// New makes the page.
func New(w *frame.Frame, s *session.Session) *Area {
	a := &Area{window: w, session: s}
	a.work = fits.New(w, s, "suspects", a.showFits)
	return a
}

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.SuspectsPage: {Rail: rail, Arrive: a.arrive, Build: a.build, Leave: func() { a.page = nil }}}
}

// here is where what is typed into the entry is kept, whichever list led to the
// page.
var here = place.Suspects("")

// arrive takes a list that another page hands over, and works out what fits
// unless that is known.
func (a *Area) arrive(at place.Location) (said string, err error) {
	if at.Query != "" && at.Query != a.handed {
		a.handed = at.Query
		if text := strings.TrimSpace(a.typed() + "\n" + at.Query); len(text) <= mostTyped {
			a.session.Keep(here, 0, text)
			a.read()
		} else {
			said = tooLong
		}
	}
	a.reason()
	return said, nil
}

// typed is what stands in the entry.
func (a *Area) typed() string { text, _ := a.session.Draft(here, 0); return text }

// tell changes what is told, so that it can be undone, and works out what fits.
func (a *Area) tell(next view.Account) {
	a.earlier = append(a.earlier, a.session.Account())
	a.put(next)
}

// undo takes the last change of what is told back.
func (a *Area) undo() {
	if n := len(a.earlier); n > 0 {
		before := a.earlier[n-1]
		a.earlier = a.earlier[:n-1]
		a.put(before)
	}
}

func (a *Area) put(next view.Account) {
	a.session.Tell(next)
	a.reason()
}

// reason works out what fits what is told, then what to find out next, and ahead
// what a further reading will ask for.
func (a *Area) reason() {
	a.work.Find(a.session.Account(), true)
	a.work.Warm(a.session.Account())
}

// again works out what fits once more, after that has failed.
func (a *Area) again() {
	a.work.Forget()
	a.reason()
	a.window.Render()
}

// unfold asks or shows something of what is folded, or folds it.
func (a *Area) unfold(name string) {
	if a.open == name {
		name = ""
	}
	a.open = name
	a.window.Render()
}

// change tells another account and draws the page, with nothing open.
func (a *Area) change(next view.Account) {
	a.open = ""
	a.drawAfter(func() { a.tell(next) })
}

// drawAfter draws the page after something was done. What calls for a STOP then is
// brought into view, wherever the page was scrolled.
func (a *Area) drawAfter(do func()) {
	before := len(a.danger())
	do()
	a.window.Render()
	if len(a.danger()) > before {
		a.window.ScrollTop()
	}
}

// build draws the page.
func (a *Area) build(place.Location) frame.Page {
	a.page = newSheet(a)
	return a.page.page()
}

// showFits shows what fits, where the page is on show.
func (a *Area) showFits() {
	if a.page != nil && a.window.Here().Page == place.SuspectsPage && !a.page.building {
		a.page.update()
		a.window.Relayout()
	}
}

// begin walks a tree with what is told.
func (a *Area) begin(tree string) {
	out, err := a.session.BeginTold(tree, a.account())
	parts.GoOn(a.window, out, err)
}
