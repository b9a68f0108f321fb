package gui

import (
	"errors"
	"io/fs"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/gui/look"
)

// The pages, by the name a Location carries.
const (
	pageWelcome   = "welcome"
	pageOpening   = "opening"
	pageWalk      = "walk"
	pageCannot    = "cannot"
	pageSheet     = "sheet"
	pageMake      = "make"
	pageTree      = "tree"
	pageStep      = "step"
	pagePedestal  = "pedestal"
	pageRead      = "read"
	pageHandbook  = "handbook"
	pageSearch    = "search"
	pageVisits    = "visits"
	pageDelete    = "delete"
	pageCircuit   = "circuit"
	pageScenarios = "scenarios"
	pageScenario  = "scenario" // one of them
	pageSettings  = "settings"
	pageProblems  = "problems"
)

// pane is what a page shows: a body, something to read beside it, and what
// the keyboard does there.
type pane struct {
	body  []fyne.CanvasObject
	side  []fyne.CanvasObject
	focus fyne.Focusable  // has the keyboard at first; nil for none
	keys  map[rune]func() // what a typed character does, besides the digits of choices
	text  string          // the page as text; "" takes it from the widgets
}

// page is an entry of the page table.
type page struct {
	rail  string // the rail entry it belongs to
	needs bool   // it needs the handbook
	build func(d *Desk, at Location) pane
}

// pages is filled by init, since the builders lead back to it.
var pages map[string]page

func init() {
	pages = map[string]page{
		pageWelcome:   {"", true, (*Desk).welcomePane},
		pageOpening:   {railFind, true, (*Desk).openingPane},
		pageWalk:      {railFind, true, (*Desk).walkPane},
		pageCannot:    {railFind, true, (*Desk).cannotPane},
		pageSheet:     {railFind, true, (*Desk).sheetPane},
		pageMake:      {railFind, true, (*Desk).makePane},
		pageTree:      {railFind, true, (*Desk).treePane},
		pageStep:      {railFind, true, (*Desk).stepPane},
		pagePedestal:  {railPedestal, true, (*Desk).pedestalPane},
		pageRead:      {railHandbook, true, (*Desk).readPane},
		pageHandbook:  {railHandbook, true, (*Desk).handbookPane},
		pageSearch:    {"", true, (*Desk).searchPane},
		pageVisits:    {railVisits, true, (*Desk).visitsPane},
		pageDelete:    {railVisits, true, (*Desk).deletePane},
		pageCircuit:   {railCircuit, true, (*Desk).circuitPane},
		pageScenarios: {railPractice, true, (*Desk).scenariosPane},
		pageScenario:  {railPractice, true, (*Desk).scenarioPane},
		pageSettings:  {railSettings, false, (*Desk).settingsPane},
		pageProblems:  {railHandbook, true, (*Desk).problemsPane},
	}
}

var errStopped = errors.New("reading the handbook was stopped")

// Go shows a place and remembers the one before it.
func (d *Desk) Go(to Location) {
	if !d.settings.Welcomed && to.Page != pageSettings && to.Page != pageRead {
		to = Location{Page: pageWelcome} // the caution comes first
	}
	d.runner.Cancel(jobVisits)
	d.history.Scrolled(d.shell.offset())
	d.history.Go(to)
	d.shell.note = ""
	d.render()
}

// Back shows the place before this one; at the first place it does nothing.
func (d *Desk) Back() {
	d.history.Scrolled(d.shell.offset())
	if d.history.Back() {
		d.shell.note = ""
		d.render()
	}
}

// Forward undoes Back.
func (d *Desk) Forward() {
	d.history.Scrolled(d.shell.offset())
	if d.history.Forward() {
		d.shell.note = ""
		d.render()
	}
}

// Here is the place shown.
func (d *Desk) Here() Location { return d.history.Here() }

// render builds the page of the present place anew.
func (d *Desk) render() {
	at := d.history.Here()
	p, ok := pages[at.Page]
	switch {
	case !ok:
		d.pane = d.missingPane("There is no such page.")
	case p.needs && d.book == nil:
		d.pane = d.waitingPane()
	default:
		d.pane = p.build(d, at)
	}
	d.shell.show(p.rail, at, d.pane)
}

// say shows a message above the page until the next place is shown.
func (d *Desk) say(text string) {
	d.shell.note = text
	d.render()
}

// waitingPane stands where a page will be once the handbook is read.
func (d *Desk) waitingPane() pane {
	if d.bookErr != nil {
		return pane{body: []fyne.CanvasObject{
			look.NewQuestion("The handbook could not be read"),
			look.NewSelectable(view.Sentence(d.bookErr.Error())),
			look.NewSoft("Visits on record are kept as they are. Check the folder named with -content, or start without it to use the built-in handbook."),
			look.Row(look.GapSmall, look.NewPrimary("Read it again", d.load), look.NewButton("Settings", func() { d.Go(Location{Page: pageSettings}) })),
		}}
	}
	return pane{body: []fyne.CanvasObject{
		look.NewQuestion("Reading the handbook"),
		look.NewSoft("This takes a moment. If anyone felt a shock just now: inside, stay inside and touch no metal; outside, stand 3 m off. Do not touch a person who is held; call emergency services."),
		look.Row(look.GapSmall, look.NewButton("Stop reading", d.cancelLoad)),
	}}
}

// missingPane says that something a link named is not there.
func (d *Desk) missingPane(what string) pane {
	home := look.NewPrimary("To the beginning", func() { d.Go(Location{Page: pageOpening}) })
	return pane{body: []fyne.CanvasObject{
		look.NewQuestion("Not found"),
		look.NewText(what),
		look.Row(look.GapSmall, home, look.NewButton("Back", d.Back)),
	}, focus: home}
}

// missingVisit says why a visit can not be opened.
func (d *Desk) missingVisit(err error) pane {
	if errors.Is(err, fs.ErrNotExist) {
		return d.missingPane("This visit is not on record any more.")
	}
	return d.missingPane("The visit can not be opened. " + view.Sentence(err.Error()))
}

// open goes to where a link leads.
func (d *Desk) open(l view.Link) {
	switch l.Kind {
	case view.KindTree:
		d.Go(Location{Page: pageTree, ID: l.ID})
	case view.KindStep:
		d.Go(Location{Page: pageStep, ID: l.ID})
	default:
		d.Go(Location{Page: pageRead, Kind: string(l.Kind), ID: l.ID})
	}
}
