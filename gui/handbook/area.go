// Package handbook is the pages on which the handbook is read: its documents
// and their list, what is wrong with it, and the search in it. It also reads
// the handbook and builds the index, behind the window.
package handbook

import (
	"context"
	"errors"
	"net/url"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
	"faultwright/search"
)

// Sources say where a handbook and its index come from. Both are called off
// the window's goroutine.
type Sources struct {
	Read    func(context.Context) (*content.Library, error)
	Index   func(context.Context, *content.Library) (*search.Index, error)
	Indexed func() // told when an index was built; nil for no one
	// Changed waits until the author of the handbook has saved something; nil where nobody edits it.
	Changed func(context.Context) error
}

// files is how a page to pin up gets into a file that the reader chooses.
type files interface {
	AskSave(name, ending string, then func(fyne.URIWriteCloser, error))
	OpenFile(*url.URL) error
}

// Area is the pages of the handbook.
type Area struct {
	window  *frame.Frame
	files   files
	session *session.Session
	sources Sources

	reading  bool          // the handbook is being read
	failed   error         // why there is none to read in
	saved    saved         // what its author is at
	finder   *search.Index // nil until an index was built
	indexErr error         // why there is no index

	paper  print.Paper // chosen last for a page to pin up
	pinned *url.URL    // the file that the page was last saved to; nil for none
}

// New makes the pages.
func New(w *frame.Frame, s *session.Session, from Sources) *Area {
	return &Area{window: w, files: w, session: s, sources: from, paper: print.A4}
}

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{
		place.DocumentPage: {Rail: rail, Build: a.documentPage},
		place.PrintPage:    {Rail: rail, Build: a.printPage, Arrive: a.arriveAtPrint},
		place.HandbookPage: {Rail: rail, Build: a.listPage},
		place.ProblemsPage: {Rail: rail, Build: a.problemsPage},
		place.EditedPage:   {Rail: rail, Build: a.editedPage},
		place.SearchPage:   {Build: a.searchPage},
	}
}

const jobRead, jobIndex, jobFollow = "handbook", "index", "changes of the handbook"

var errStopped = errors.New("reading the handbook was stopped")

// Load reads the handbook, then builds the index over it. A handbook that was
// read before stays in use until the new one is whole, and if that fails.
func (a *Area) Load() {
	a.reading, a.failed = true, nil
	again := a.session.Book() != nil
	if again {
		a.window.Say("The handbook is being read again; until then the one read before stays in use.")
	}
	frame.Try(a.window.Runner(), jobRead, a.sources.Read, func(book *content.Library, err error) {
		if err != nil {
			a.stop(err)
			return
		}
		a.reading = false
		a.use(book, func(said string) string {
			if again {
				return "The handbook was read again. " + said
			}
			return said
		})
	})
}

// use puts a handbook that was read in use, and tells of it and of what no longer fits.
func (a *Area) use(book *content.Library, tell func(said string) string) {
	a.saved.held = nil
	a.window.Return(tell(a.session.UseBook(book)))
	a.index()
}

// CancelLoad stops reading the handbook; the reader may start it again.
func (a *Area) CancelLoad() {
	a.window.Runner().Cancel(jobRead)
	a.stop(errStopped)
}

// stop ends reading without a new handbook.
func (a *Area) stop(why error) {
	a.reading = false
	if a.session.Book() == nil {
		a.failed = why
		a.window.Return("")
		return
	}
	a.window.Say("The handbook was not read again, so the one read before stays in use. " + view.Capital(view.Sentence(why.Error())))
}

// Waiting stands where a page will be once a handbook was read.
func (a *Area) Waiting() frame.Page {
	if a.failed != nil {
		return frame.Page{Body: []fyne.CanvasObject{
			look.NewQuestion("The handbook could not be read"),
			look.NewSelectable(view.Sentence(a.failed.Error())),
			look.NewSoft("Visits on record are kept as they are. Check the folder named with -content, or start without it to use the built-in handbook."),
			look.Row(look.GapSmall, look.NewPrimary("Read it again", a.Load), look.NewButton("Settings", func() { a.window.Go(place.Settings()) })),
		}}
	}
	return frame.Page{Body: []fyne.CanvasObject{
		look.NewQuestion("Reading the handbook"),
		look.NewSoft("This takes a moment. If anyone felt a shock just now: inside, stay inside and touch no metal; outside, stand 3 m off. Do not touch a person who is held; call emergency services."),
		look.Row(look.GapSmall, look.NewButton("Stop reading", a.CancelLoad)),
	}}
}
