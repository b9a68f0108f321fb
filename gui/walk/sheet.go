package walk

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree/visit"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

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
	made := func(f session.Format, then func(visit.Visit, []byte)) func() {
		return func() {
			details := visit.Details{Site: strings.TrimSpace(site.Text), Vehicle: strings.TrimSpace(vehicle.Text), Note: strings.TrimSpace(note.Text)}
			if err := a.session.Describe(at.ID, details); err != nil {
				a.window.Say(err.Error())
				return
			}
			record := a.session.UnderWay(at.ID).Record()
			then(record, a.session.Sheet(record, f))
		}
	}
	save := func(f session.Format) func() {
		return made(f, func(record visit.Visit, text []byte) {
			a.window.AskSave(a.session.SheetName(record), f.Ending(), func(w fyne.URIWriteCloser, err error) { a.save(w, err, text) })
		})
	}
	row := look.Row(12,
		look.NewPrimary("Save for printing (HTML)", save(session.Printed)),
		look.NewButton("Save as text (Markdown)", save(session.Plain)),
		look.NewButton("Copy as text", made(session.Plain, func(_ visit.Visit, text []byte) {
			a.window.Copy(string(text))
			a.window.Say("The sheet is on the clipboard.")
		})),
		look.NewButton("Back", a.window.Back))
	body := []fyne.CanvasObject{
		parts.Head(a.window, a.session.TreeTitle(v.Walk().Start().Tree), "The sheet for whoever repairs it"),
		look.NewText("It holds the finding, every reading with its uncertainty and limit, the cautions, and a part for the electrician. Any browser prints it. All three lines may stay empty."),
	}
	body = append(body, readOnlyNotice(v)...)
	return frame.Page{Body: append(body, look.MaxWidth(640, false, form), row), Focus: site}
}

// save puts the sheet into the file that the reader has chosen, if any, and
// says where it is.
func (a *Area) save(w fyne.URIWriteCloser, err error, text []byte) {
	if err != nil {
		a.window.Say("The sheet was not saved. " + view.Sentence(err.Error()))
		return
	}
	if w == nil {
		return // the reader thought better of it
	}
	where := w.URI().Path()
	_, err = w.Write(text)
	if closed := w.Close(); err == nil {
		err = closed
	}
	if err != nil {
		a.window.Say("The sheet could not be written to " + where + ". " + view.Sentence(err.Error()))
		return
	}
	a.window.Say("The sheet was saved to " + where + ".")
}
