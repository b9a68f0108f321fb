package gui

import (
	"strings"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"faultwright/content/sheet"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/visit"
	"faultwright/gui/look"
)

// sheetFormat is a form the sheet can be saved in.
type sheetFormat struct {
	name, ending string
	write        func(d *Desk, v visit.Visit) []byte
}

var sheetFormats = []sheetFormat{
	{"Save for printing (HTML)", ".html", func(d *Desk, v visit.Visit) []byte {
		return sheet.HTML(sheet.FromVisit(v, d.book, d.options.Now()), d.book)
	}},
	{"Save as text (Markdown)", ".md", func(d *Desk, v visit.Visit) []byte {
		return sheet.Markdown(sheet.FromVisit(v, d.book, d.options.Now()), d.book)
	}},
}

// makePane asks for site and vehicle and saves the sheet.
func (d *Desk) makePane(at Location) pane {
	if err := d.resume(at.ID); err != nil {
		return d.missingVisit(err)
	}
	known := d.visit.rec.Visit().Details()
	site := d.detail(at, 0, "Site and pitch, such as Quillback Hollow, site 14", known.Site)
	vehicle := d.detail(at, 1, "Vehicle and plate", known.Vehicle)
	note := d.detail(at, 2, "For the electrician, in your own words", known.Note)
	details := func() visit.Details {
		return visit.Details{Site: strings.TrimSpace(site.Text), Vehicle: strings.TrimSpace(vehicle.Text), Note: strings.TrimSpace(note.Text)}
	}
	form := look.Stack(12,
		look.Stack(4, look.NewStrong("Site"), site),
		look.Stack(4, look.NewStrong("Vehicle"), vehicle),
		look.Stack(4, look.NewStrong("Note"), note))
	if d.visit.readOnly() {
		for _, f := range []*look.Field{site, vehicle, note} {
			f.Disable()
		}
	}
	row := look.Row(12)
	for i, f := range sheetFormats {
		save := func() {
			if d.describe(details()) {
				d.saveSheet(f)
			}
		}
		if i == 0 {
			row.Add(look.NewPrimary(f.name, save))
		} else {
			row.Add(look.NewButton(f.name, save))
		}
	}
	row.Add(look.NewButton("Copy as text", func() {
		if d.describe(details()) {
			d.app.Clipboard().SetContent(string(sheetFormats[1].write(d, d.visit.rec.Visit())))
			d.say("The sheet is on the clipboard.")
		}
	}))
	row.Add(look.NewButton("Back", d.Back))
	body := []fyne.CanvasObject{
		d.head(d.treeTitle(d.visit.walk().Start().Tree), "The sheet for whoever repairs it"),
		look.NewText("It holds the finding, every reading with its uncertainty and limit, the cautions, and a part for the electrician. Any browser prints it. All three lines may stay empty."),
	}
	if d.visit.reason != "" {
		body = append(body, look.NewCallout(faulttree.Notice, look.NewText(d.visit.reason)))
	}
	return pane{body: append(body, look.MaxWidth(640, false, form), row), focus: site}
}

func (d *Desk) detail(at Location, n int, hint, known string) *look.Field {
	f := d.field(hint)
	text := d.draft(at, n)
	if text == "" {
		text = known
	}
	f.SetText(text)
	f.OnChanged = func(text string) { d.keep(at, n, text) }
	return f
}

// saveSheet asks for a file and writes the sheet into it.
func (d *Desk) saveSheet(f sheetFormat) {
	v := d.visit.rec.Visit()
	ask := dialog.NewFileSave(func(w fyne.URIWriteCloser, err error) {
		if err != nil {
			d.say("The sheet was not saved. " + view.Sentence(err.Error()))
			return
		}
		if w == nil {
			return // the reader thought better of it
		}
		d.writeSheet(w, f, v)
	}, d.window)
	ask.SetFileName("sheet-" + v.Header.ID + f.ending)
	ask.SetFilter(storage.NewExtensionFileFilter([]string{f.ending}))
	ask.Show()
	room := d.window.Canvas().Size()
	ask.Resize(fyne.NewSize(min(room.Width-24, 900), min(room.Height-24, 640))) // only a dialog that is shown has a size
}

// writeSheet puts the sheet into a file and says where it is.
func (d *Desk) writeSheet(w fyne.URIWriteCloser, f sheetFormat, v visit.Visit) {
	where := w.URI().Path()
	_, err := w.Write(f.write(d, v))
	if closed := w.Close(); err == nil {
		err = closed
	}
	if err != nil {
		d.say("The sheet could not be written to " + where + ". " + view.Sentence(err.Error()))
		return
	}
	d.say("The sheet was saved to " + where + ".")
}
