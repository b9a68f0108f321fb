// Package vehicles is the reader's own vehicles: their list, the page of each with its
// visits and what its readings have become over them, and adding, changing, merging and
// deleting them.
package vehicles

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree/logbook"
	"faultwright/faulttree/logbook/store"
	visits "faultwright/faulttree/visit/store"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// files is how a vehicle gets into a file and out of one.
type files interface {
	AskSave(name, ending string, then func(fyne.URIWriteCloser, error))
	AskOpen(ending string, then func(fyne.URIReadCloser, error))
}

// Area is the pages of the reader's own vehicles.
type Area struct {
	window  *frame.Frame
	files   files
	session *session.Session

	all     []logbook.Vehicle
	unread  []store.Unread
	failed  error // why they cannot be listed
	shown   logbook.Vehicle
	history *session.History // of the vehicle shown; nil while it is read
	drawn   bool             // also what has not changed is drawn
	given   visits.Summary   // the visit that is given to another vehicle
	others  *session.Listing // the visits on record, of which some may be of the vehicle shown; nil while they are read
	forms   map[string]*form // by id of the vehicle, "" for a new one; what is typed outlives the page
}

// New makes the pages.
func New(w *frame.Frame, s *session.Session) *Area {
	return &Area{window: w, files: w, session: s, forms: map[string]*form{}}
}

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{
		place.VehiclesPage: {Rail: rail, Build: a.listPage, Arrive: a.list},
		place.VehiclePage:  {Rail: rail, Build: a.vehiclePage, Arrive: a.open, Leave: a.stopReading},
		place.KeepPage:     {Rail: rail, Build: a.formPage, Arrive: a.openForm},
		place.MergePage:    {Rail: rail, Build: a.mergePage, Arrive: a.openWithOthers},
		place.DiscardPage:  {Rail: rail, Build: a.discardPage, Arrive: a.openWithOthers},
		place.GivePage:     {Rail: rail, Build: a.givePage, Arrive: a.openVisit},
		place.GatherPage:   {Rail: rail, Build: a.gatherPage, Arrive: a.openGather, Leave: a.stopGathering},
	}
}

// list reads the vehicles.
func (a *Area) list(place.Location) (string, error) {
	a.all, a.unread, a.failed = a.session.Vehicles()
	return "", nil
}

const empty = "No vehicle has a name here yet. Give one a name, and its plug and battery are asked once; its visits stand side by side. A visit of a vehicle that you see only once needs no name."

// listPage lists the vehicles, and which is in hand.
func (a *Area) listPage(place.Location) frame.Page {
	body := []fyne.CanvasObject{look.NewQuestion("Vehicles")}
	if !a.session.KeepsVehicles() {
		return frame.Page{Body: append(body, look.NewText("Vehicles are not kept: there is no folder for them."))}
	}
	add := look.NewPrimary("Add a vehicle", func() { a.window.Go(place.KeepVehicle("")) })
	buttons := look.Row(12, add, look.NewButton("Take one from a file", a.importFile))
	inHand, any := a.session.InHand()
	switch {
	case a.failed != nil:
		body = append(body, look.NewText(view.Sentence(view.Capital(a.failed.Error()))))
	case len(a.all) == 0:
		body = append(body, look.NewText(empty))
	case any:
		body = append(body, look.Stack(8, look.NewText("In hand is “"+a.called(inHand)+"”: visits begin for it."),
			look.Row(8, look.NewButton("None: the next visit is of a vehicle without a name", func() { a.take("", place.Vehicles()) }))))
	default:
		body = append(body, look.NewText("None is in hand: visits begin for a vehicle without a name."))
	}
	rows := look.Stack(look.GapBlock)
	for _, v := range a.all {
		rows.Add(a.row(v, v.ID == inHand.ID))
	}
	for _, u := range a.unread {
		rows.Add(look.Stack(8, look.NewStrong(u.ID), look.NewText("This file cannot be read, and stays as it is. "+view.Sentence(view.Capital(u.Err.Error()))), look.NewLine()))
	}
	return frame.Page{Body: append(body, buttons, rows), Focus: add}
}

// called is what a vehicle is called in the list.
func (a *Area) called(v logbook.Vehicle) string { return view.Called(a.session.Book(), v, a.all) }

// row is one vehicle of the list.
func (a *Area) row(v logbook.Vehicle, inHand bool) fyne.CanvasObject {
	lines := look.Stack(4, look.NewTitle(a.called(v)))
	if inHand {
		lines.Add(look.NewStrong("In hand"))
	}
	for _, fact := range view.KnownOf(a.session.Book(), v) {
		lines.Add(look.NewSoft(fact))
	}
	open := look.NewButton("Open "+a.called(v), func() { a.window.Go(place.Vehicle(v.ID)) })
	row := look.Row(8, open)
	if !inHand {
		row.Add(look.NewButton("Take "+a.called(v)+" in hand", func() { a.take(v.ID, place.Opening()) }))
	}
	lines.Add(look.Pad(6, 0, 0, 0, row))
	return look.Stack(14, lines, look.NewLine())
}

// take has a vehicle in hand, "" for none, and goes on somewhere.
func (a *Area) take(id string, to place.Location) {
	if err := a.session.TakeInHand(id); err != nil {
		a.window.Say(err.Error())
		return
	}
	a.window.Go(to)
}

const jobImport = "vehicle from a file"

// importFile asks for a file with a vehicle and takes it.
func (a *Area) importFile() {
	a.files.AskOpen(ending, parts.Chosen(a.window, "Nothing was taken.", func(r fyne.URIReadCloser) {
		frame.Run(a.window.Runner(), jobImport, a.session.ImportVehicle(r), func(x session.Imported) {
			r.Close() // it was only read
			if x.Err != nil {
				a.window.Say(x.Err.Error())
				return
			}
			a.window.Go(place.Vehicle(x.Vehicle.ID), x.Said)
		})
	}))
}
