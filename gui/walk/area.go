// Package walk is the main job of the window: from what is happening, through
// the steps of a tree, to a finding and its sheet. What is asked and where an
// answer leads is computed by the walk; these pages show it and hand answers
// to the session, which puts them on disk before the next step is shown.
package walk

import (
	"net/url"

	"fyne.io/fyne/v2"

	"faultwright/faulttree"
	"faultwright/gui/fits"
	"faultwright/gui/frame"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// files is how the sheet gets into a file that the reader chooses.
type files interface {
	AskSave(name, ending string, then func(fyne.URIWriteCloser, error))
	OpenFile(*url.URL) error
}

// Area is the pages of a walk.
type Area struct {
	window  *frame.Frame
	files   files
	session *session.Session

	unfinished unfinished      // what the opening view offers to go on with
	unfolded   map[string]bool // what was opened of what is folded into one line
	saved      *url.URL        // the file that the sheet was last saved to; nil for none
	possible   possible
}

// New makes the pages.
func New(w *frame.Frame, s *session.Session) *Area {
	a := &Area{window: w, files: w, session: s, unfolded: map[string]bool{}}
	a.possible.work = fits.New(w, s, "still possible", a.possibleFound)
	return a
}

// Pages are the entries of the window's table, under two entries of its rail:
// one for finding a cause, one for checking a pedestal.
func (a *Area) Pages(find, pedestal string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{
		place.WelcomePage:  {Build: a.welcomePage},
		place.OpeningPage:  {Rail: find, Build: a.openingPage, Arrive: a.lookForUnfinished, Leave: a.stopLooking},
		place.PedestalPage: {Rail: pedestal, Build: a.pedestalPage},
		place.TreePage:     {Rail: find, Build: a.treePage},
		place.StepPage:     {Rail: find, Build: a.stepPage},
		place.WalkPage:     {Rail: find, Build: a.ofVisit(a.walkPage), Arrive: a.arrive},
		place.CannotPage:   {Rail: find, Build: a.ofVisit(a.cannotPage), Arrive: a.openVisit},
		place.FoundPage:    {Rail: find, Build: a.ofVisit(a.foundPage), Arrive: a.openVisit},
		place.ReadingsPage: {Rail: find, Build: a.ofVisit(a.readingsPage), Arrive: a.openVisit},
		place.SheetPage:    {Rail: find, Build: a.ofVisit(a.sheetPage), Arrive: a.arriveAtSheet},
	}
}

// openVisit makes the visit of a place the one under way.
func (a *Area) openVisit(at place.Location) (string, error) { return a.session.Open(at.ID) }

// ofVisit is a page of the visit under way.
func (a *Area) ofVisit(build func(at place.Location, v *session.Visit) frame.Page) func(place.Location) frame.Page {
	return func(at place.Location) frame.Page {
		v := a.session.UnderWay(at.ID)
		if v == nil {
			return a.window.Missing(session.ErrGone.Error())
		}
		return build(at, v)
	}
}

func (a *Area) goOn(out session.Outcome, err error) { parts.GoOn(a.window, out, err) }

func (a *Area) begin(at faulttree.Ref) { a.goOn(a.session.Begin(at)) }

// set changes a setting and shows it.
func (a *Area) set(change func(*session.Settings)) {
	if err := a.session.Set(change); err != nil {
		a.window.Say(err.Error())
		return
	}
	a.window.Render()
}
