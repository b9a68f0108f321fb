// Package visits is the list of visits on record, and their deletion.
package visits

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit/store"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the pages of the visits on record.
type Area struct {
	window  *frame.Frame
	session *session.Session

	listing *session.Listing // nil while the records are read
	asked   string           // the visit that may be deleted, in words
}

// New makes the pages.
func New(w *frame.Frame, s *session.Session) *Area { return &Area{window: w, session: s} }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{
		place.VisitsPage: {Rail: rail, Build: a.listPage, Arrive: a.read, Leave: a.stopReading},
		place.DeletePage: {Rail: rail, Build: a.deletePage, Arrive: a.readOne},
	}
}

// mostRows is how many visits are shown before the reader asks for all.
const mostRows = 60

const jobVisits = "visits"

// read begins to read the records.
func (a *Area) read(at place.Location) (string, error) {
	most := mostRows
	if at.Kind != "" {
		most = store.MostVisits
	}
	a.listing = nil
	frame.Run(a.window.Runner(), jobVisits, a.session.Listing(most), func(l session.Listing) {
		a.listing = &l
		a.window.Render()
	})
	return "", nil
}

func (a *Area) stopReading() { a.window.Runner().Cancel(jobVisits) }

// listPage lists the visits on record.
func (a *Area) listPage(place.Location) frame.Page {
	head := look.NewQuestion("Visits")
	switch {
	case !a.session.KeepsVisits():
		return frame.Page{Body: []fyne.CanvasObject{head, look.NewText("Visits are not kept: there is no folder for them.")}}
	case a.listing == nil:
		return frame.Page{Body: []fyne.CanvasObject{head, look.NewSoft("Reading the visits on record. Leaving this page stops it.")}}
	}
	rows, first := a.rows(*a.listing)
	return frame.Page{Body: []fyne.CanvasObject{head, look.Stack(look.GapBlock, rows...)}, Focus: first}
}

// rows is the list; first is what has the keyboard, nil for nothing.
func (a *Area) rows(l session.Listing) (rows []fyne.CanvasObject, first fyne.Focusable) {
	switch {
	case l.Err != nil:
		return []fyne.CanvasObject{look.NewText("The visits could not be listed. " + view.Sentence(l.Err.Error()))}, nil
	case len(l.Lines) == 0:
		begin := look.NewPrimary("To the beginning", func() { a.window.Go(place.Opening()) })
		return []fyne.CanvasObject{
			look.NewText("No visit is on record yet. One is begun with the first choice under “What is happening?”, and every answer is kept as it is given."),
			look.Row(12, begin),
			a.sample(),
		}, begin
	}
	for _, line := range l.Lines {
		row, button := a.row(line)
		rows = append(rows, row)
		if first == nil {
			first = button
		}
	}
	if l.More > 0 {
		rows = append(rows, look.Row(12, look.NewButton("Show "+view.Count(l.More, "older visit"), func() { a.window.Go(place.AllVisits()) })))
	}
	return rows, first
}

// sample leads to the sample visit, where the handbook has one.
func (a *Area) sample() fyne.CanvasObject {
	if a.session.Book().Sample == nil {
		return look.Stack(0)
	}
	return look.NewLink("Look at a sample: a visit of no real vehicle, with made-up readings", func() {
		out, err := a.session.BeginSample()
		parts.GoOn(a.window, out, err)
	})
}

// row is one visit: what it is, how it stands, what can be done, of which first is the
// button to begin with.
func (a *Area) row(s session.Line) (row fyne.CanvasObject, first *look.Button) {
	remove := look.NewButton("Delete", func() { a.window.Go(place.Delete(s.ID)) })
	if s.Err != nil {
		return look.Stack(8, look.NewStrong(s.ID), look.NewText("This record cannot be read. "+view.Sentence(s.Err.Error())), look.Row(8, remove), look.NewLine()), remove
	}
	title := look.NewTitle(a.session.TreeTitle(s.Header.Start.Tree))
	lines := look.Stack(4, title, look.NewSoft(a.session.About(s.Summary)), look.NewText(s.State))
	if len(s.Doubts) > 0 {
		told := look.Stack(4)
		for _, d := range s.Doubts {
			told.Add(look.NewText(d.String()))
		}
		lines.Add(look.NewCallout(faulttree.Caution, told))
	}
	open := look.NewButton("Open", func() { a.window.Go(place.Walk(s.ID, s.Answers)) })
	sheet := look.NewButton("Make the sheet", func() { a.window.Go(place.Sheet(s.ID)) })
	buttons := look.Row(8, open)
	if s.Header.Practice == "" { // nobody is handed a sheet of it
		buttons.Add(sheet)
		if a.session.KeepsVehicles() {
			buttons.Add(look.NewButton("Of which vehicle", func() { a.window.Go(place.GiveVisit(s.ID)) }))
		}
	}
	buttons.Add(remove)
	lines.Add(look.Pad(6, 0, 0, 0, buttons))
	return look.Stack(14, lines, look.NewLine()), open
}

// readOne looks at the visit that may be deleted.
func (a *Area) readOne(at place.Location) (string, error) {
	a.asked = at.ID
	if !a.session.KeepsVisits() {
		return "", session.ErrGone
	}
	if s, err := a.session.Summary(at.ID); err == nil { // one that cannot be read can be deleted as well
		a.asked = "“" + a.session.TreeTitle(s.Header.Start.Tree) + "”, " + a.session.About(s)
	}
	return "", nil
}

// deletePage asks before a visit is deleted.
func (a *Area) deletePage(at place.Location) frame.Page {
	keep := look.NewPrimary("Keep it", a.window.Back)
	remove := look.NewButton("Delete it for good", func() { a.remove(at.ID) })
	return frame.Page{Body: []fyne.CanvasObject{
		look.NewQuestion("Delete this visit?"), look.NewText(view.Sentence(a.asked)),
		look.NewText("Its readings and answers are removed from this machine. Sheets that were saved stay where they are. This cannot be undone."),
		look.Row(12, keep, remove),
	}, Focus: keep}
}

func (a *Area) remove(id string) {
	if err := a.session.Delete(id); err != nil {
		a.window.Say(err.Error())
		return
	}
	a.window.Forget(func(l place.Location) bool { return l.ID == id })
	a.window.Go(place.Visits(), "The visit was deleted.")
}
