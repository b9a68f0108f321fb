package vehicles

import (
	"cmp"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/content/view"
	"faultwright/faulttree/logbook"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// ending is that of a file with a vehicle.
const ending = ".zip"

// mostPlots is how many quantities are drawn; all are in the table.
const mostPlots = 40

const jobHistory = "visits of a vehicle"

// open reads a vehicle, and begins to read its visits.
func (a *Area) open(at place.Location) (string, error) {
	v, err := a.session.Vehicle(at.ID)
	a.shown, a.history, a.drawn = v, nil, false
	if err != nil {
		return "", err
	}
	frame.Run(a.window.Runner(), jobHistory, a.session.History(v), func(h session.History) {
		a.history = &h
		a.window.Render()
	})
	return "", nil
}

func (a *Area) stopReading() { a.window.Runner().Cancel(jobHistory) }

// vehiclePage is one vehicle: what is known of it, its visits and what its readings have
// become.
func (a *Area) vehiclePage(place.Location) frame.Page {
	v := a.shown
	inHand, _ := a.session.InHand()
	begin := look.NewPrimary("Begin a visit of it", func() { a.take(v.ID, place.Opening()) })
	what := look.Stack(8)
	if v.ID == inHand.ID {
		what.Add(look.NewStrong("In hand: visits begin for it."))
	}
	for _, fact := range view.KnownOf(a.session.Book(), v) {
		what.Add(look.NewText(fact))
	}
	if aboard := view.AboardOf(v); aboard != "" {
		what.Add(look.NewText(aboard))
	}
	if v.Meter != "" {
		what.Add(look.NewText("Read with: " + v.Meter + "."))
	}
	for line := range strings.Lines(v.Note) {
		what.Add(look.NewText(strings.TrimSpace(line)))
	}
	if len(what.Objects) == 0 {
		what.Add(look.NewSoft("Nothing is noted of it yet. What a walk asks of its plug and battery is noted at the finding."))
	}
	body := []fyne.CanvasObject{
		parts.Head(a.window, "Vehicle", a.session.Called(v)), what,
		look.Row(8, begin, look.NewButton("Change", func() { a.window.Go(place.KeepVehicle(v.ID)) }), look.NewButton("Save as a file", a.export),
			look.NewButton("Add visits on record", func() { a.window.Go(place.GatherVisits(v.ID)) }),
			look.NewButton("Merge with another", func() { a.window.Go(place.MergeVehicle(v.ID, "")) }), look.NewButton("Delete", func() { a.window.Go(place.DiscardVehicle(v.ID)) })),
	}
	return frame.Page{Body: append(body, a.visits()...), Focus: begin}
}

// visits is what is known of the visits of the vehicle shown.
func (a *Area) visits() []fyne.CanvasObject {
	h := a.history
	switch {
	case h == nil:
		return []fyne.CanvasObject{look.NewSoft("Reading its visits. Leaving this page stops it.")}
	case h.Err != nil:
		return []fyne.CanvasObject{look.NewText("Its visits could not be listed. " + view.Sentence(view.Capital(h.Err.Error())))}
	case len(h.Lines) == 0:
		return []fyne.CanvasObject{look.NewSoft("No visit of it is on record yet. One that is begun while it is in hand stands here.")}
	}
	rows := look.Stack(14, look.NewCaption("Its visits, the oldest first"))
	if h.More > 0 {
		rows.Add(look.NewSoft(view.Capital(view.Count(h.More, "older visit")) + " stand under Visits."))
	}
	for _, l := range h.Lines {
		open := look.NewButton("Open the visit of "+l.Header.Started.Format("2 January 2006"), func() { a.window.Go(place.Walk(l.ID, l.Answers)) })
		rows.Add(look.Stack(4, look.NewStrong(a.session.TreeTitle(l.Header.Start.Tree)), look.NewSoft(a.session.About(l.Summary)), look.NewText(l.State),
			look.Row(8, open, look.NewButton("It is of another vehicle", func() { a.window.Go(place.GiveVisit(l.ID)) }))))
	}
	return append(a.compared(h), rows)
}

// compared puts the readings of the visits side by side.
func (a *Area) compared(h *session.History) []fyne.CanvasObject {
	all := view.Compare(a.session.Book(), h.Visits)
	if len(all) == 0 {
		return []fyne.CanvasObject{look.NewSoft("Nothing was read at two visits yet, so there is nothing to compare.")}
	}
	out := []fyne.CanvasObject{look.Stack(8, look.NewCaption("Its readings over the visits"), look.NewText(view.ComparedNote))}
	plots, others := look.Grid(360, look.GapBlock, 2), 0
	for _, c := range all[:min(len(all), mostPlots)] {
		if !c.Moved && !a.drawn {
			others++
			continue
		}
		plots.Add(look.Stack(4, look.NewStrong(c.Line()), look.NewText(c.Change), look.NewFigure(c.Course().Drawing())))
	}
	if others > 0 {
		out = append(out, look.NewSoft("Drawn is what has changed by more than the meters can be off; the table below has all."))
	}
	table := look.NewBlocks([]document.Block{view.ComparedTable(all)}, a.window.Follow)
	out = append(out, plots, table)
	if others > 0 {
		out = append(out, look.Row(8, look.NewButton("Draw "+view.Count(others, "other"), func() {
			a.drawn = true
			a.window.Render()
		})))
	}
	if mark := view.ComparedRepair(all); mark != "" {
		out = append(out, look.NewSoft(mark))
	}
	return out
}

// export saves the vehicle shown with its visits.
func (a *Area) export() {
	raw, err := a.session.ExportVehicle(a.shown)
	if err != nil {
		a.window.Say("The file was not made. " + view.Sentence(view.Capital(err.Error())))
		return
	}
	a.files.AskSave(fileName(a.shown), ending, parts.Chosen(a.window, "The vehicle was not saved.", func(w fyne.URIWriteCloser) {
		where := w.URI().Path()
		_, err := w.Write(raw)
		if err = cmp.Or(err, w.Close()); err != nil {
			a.window.Say("The vehicle could not be written to " + where + ". " + view.Sentence(view.Capital(err.Error())))
			return
		}
		a.window.Say("The vehicle and its visits were saved to " + where + ".")
	}))
}

// fileName is the name of a vehicle as one of a file.
func fileName(v logbook.Vehicle) string {
	name := strings.Map(func(r rune) rune {
		if r < '0' || r > '9' && r < 'A' || r > 'Z' && r < 'a' || r > 'z' {
			return '-'
		}
		return r
	}, v.Name)
	return cmp.Or(strings.Trim(name, "-"), "vehicle")
}
