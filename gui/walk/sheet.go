package walk

import (
	"cmp"
	"errors"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// arriveAtSheet opens the visit of a sheet that was not saved yet.
func (a *Area) arriveAtSheet(at place.Location) (string, error) {
	a.saved = nil
	said, err := a.openVisit(at)
	if v := a.session.UnderWay(at.ID); err == nil && v != nil && v.Practice() {
		return said, errors.New("This walk is about no real vehicle, so there is no sheet of it.")
	}
	if v := a.session.UnderWay(at.ID); err == nil && v != nil {
		a.possible.work.Find(a.session.SheetAccount(recordOf(v, at)), false)
	}
	return said, err
}

// recordOf is the record that a sheet is made of: all of it, or what there was until
// a repair.
func recordOf(v *session.Visit, at place.Location) visit.Visit {
	if at.Kind != "" {
		return v.Record().Until(at.Step)
	}
	return v.Record()
}

// fitting is what fits the readings of a sheet, and what is to be said where that
// was not worked out yet.
func (a *Area) fitting(record visit.Visit) (*view.Suspects, string) {
	account := a.session.SheetAccount(record)
	found, _, current := a.possible.work.Of(account)
	switch {
	case current && found.Err == nil:
		return &found.Suspects, ""
	case a.possible.work.Counts(account) && !current:
		return nil, " What fits the readings is still being worked out and is not on it; make it again in a moment."
	}
	return nil, ""
}

// sheetPage asks for site and vehicle and saves the sheet.
func (a *Area) sheetPage(at place.Location, v *session.Visit) frame.Page {
	known := v.Record().Details()
	site := a.entry(at, 0, "Site and pitch, such as Quillback Hollow, site 14", known.Site)
	vehicle := a.entry(at, 1, "Vehicle and plate", known.Vehicle)
	note := a.entry(at, 2, "For the electrician, in your own words", known.Note)
	form := look.Stack(12,
		look.Stack(4, look.NewStrong("Site"), site),
		look.Stack(4, look.NewStrong("Vehicle"), vehicle),
		look.Stack(4, look.NewStrong("Note"), note))
	if v.ReadOnly() {
		for _, f := range []*look.Field{site, vehicle, note} {
			f.Disable()
		}
	}
	// made records the details and makes the sheet, or says why not.
	made := func(f session.Format, then func(record visit.Visit, text []byte, lacks string)) func() {
		return func() {
			details := visit.Details{Site: strings.TrimSpace(site.Text), Vehicle: strings.TrimSpace(vehicle.Text), Note: strings.TrimSpace(note.Text)}
			if err := a.session.Describe(at.ID, details); err != nil {
				a.window.Say(err.Error())
				return
			}
			record := recordOf(a.session.UnderWay(at.ID), at)
			fits, lacks := a.fitting(record)
			then(record, a.session.Sheet(record, f, fits), lacks)
		}
	}
	save := func(f session.Format) func() {
		return made(f, func(record visit.Visit, text []byte, lacks string) {
			a.files.AskSave(a.session.SheetName(record), f.Ending(), parts.Chosen(a.window, "The sheet was not saved.", func(w fyne.URIWriteCloser) {
				at, said := parts.Save(w, "The sheet", text, lacks)
				a.saved = cmp.Or(at, a.saved)
				a.window.Say(said)
			}))
		})
	}
	open := look.NewButton("Open it", func() {
		if err := a.files.OpenFile(a.saved); err != nil {
			a.window.Say("The sheet could not be opened. " + view.Sentence(err.Error()))
		}
	})
	parts.Enable(open, a.saved != nil) // it has its place before there is something to open
	foot := look.Row(12,
		look.NewPrimary("Save for printing (HTML)", save(session.Printed)),
		look.NewButton("Save as text (Markdown)", save(session.Plain)),
		look.NewButton("Copy as text", made(session.Plain, func(_ visit.Visit, text []byte, lacks string) {
			a.window.Copy(string(text))
			a.window.Say("The sheet is on the clipboard." + lacks)
		})),
		open, look.NewButton("Back", a.window.Back))
	body := []fyne.CanvasObject{
		parts.Head(a.window, a.session.TreeTitle(v.Walk().Start().Tree), "The sheet for whoever repairs it"),
		look.NewText("It holds the finding, every reading with its uncertainty and limit, the cautions, and a part for the electrician. Any browser prints it. All three lines may stay empty."),
	}
	if at.Kind != "" {
		body = append(body, look.NewCallout(faulttree.Notice, look.NewText("This is the sheet of what was found before the repair. It is saved under a name of its own.")))
	}
	body = append(body, readOnlyNotice(v)...)
	return frame.Page{Body: append(body, look.MaxWidth(640, false, form)), Foot: foot, Focus: site}
}
