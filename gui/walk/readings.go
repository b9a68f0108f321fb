package walk

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// readingsPage takes all readings of a tree on one page, in any order. Each is
// understood as it is typed and meets the danger limits at once.
func (a *Area) readingsPage(at place.Location, v *session.Visit) frame.Page {
	w := v.Walk()
	if !view.AllReadingsOpen(a.session.Book(), w) {
		return a.window.Missing("This walk has taken readings already; the others are taken one at a time.")
	}
	texts := map[string]string{}
	empty := view.AllReadingsOf(a.session.Book(), w, nil)
	for i, row := range empty.Rows {
		texts[row.Quantity.ID], _ = a.session.Draft(at, i)
	}

	stop := look.Stack(0)
	progress := look.NewSoft("")
	use := look.NewPrimary("Use these readings and go on", nil)
	use.OnTapped = func() {
		if s := view.AllReadingsOf(a.session.Book(), w, texts); s.Given > 0 && s.Problem == "" {
			a.goOn(a.session.Supply(at.ID, s.Supplied))
		}
	}
	var lines []*sheetLine
	update := func() {
		s := view.AllReadingsOf(a.session.Book(), w, texts)
		for i, row := range s.Rows {
			lines[i].show(row)
		}
		showSheet(a.window, s, stop, progress, use)
	}
	list := look.Stack(look.GapBlock)
	for i, row := range empty.Rows {
		l := newSheetLine(row, texts[row.Quantity.ID])
		l.field.OnChanged = func(text string) {
			texts[row.Quantity.ID] = text
			a.session.Keep(at, i, text)
			update()
			a.window.Relayout()
		}
		l.field.OnSubmitted = func(string) {
			if i+1 < len(lines) {
				a.window.Focus(lines[i+1].field)
			} else {
				a.window.Focus(use)
			}
		}
		a.window.Adopt(l.field)
		lines = append(lines, l)
		list.Add(l.object)
	}
	body := readOnlyNotice(v)
	if s := view.StepOf(a.session.Book(), w.Step(), 1); s.Caution.Signal > 0 {
		body = append(body, parts.CautionLine(a.window, s.Caution, a.folds(at)))
	}
	body = append(body, parts.Head(a.window, empty.Title, "All readings on one page"),
		look.NewText("In any order; leave open what you have not measured. Set the meter for each reading as its line says. "+empty.Proof),
		list)
	foot := footOf(a.window.Narrow(), []fyne.CanvasObject{look.Stack(8, stop, progress)}, nil, nil,
		[]fyne.CanvasObject{use, look.NewButton("One at a time", func() { a.window.Go(v.Present()) }), look.NewButton("Back", a.window.Back)}, nil)
	update()
	p := frame.Page{Body: body, Foot: foot}
	if len(lines) > 0 {
		p.Focus = lines[0].field
	}
	return p
}

// showSheet shows what all readings together lead to.
func showSheet(w *frame.Frame, s view.AllReadings, stop *fyne.Container, progress *look.Prose, use *look.Button) {
	stop.Objects = nil
	switch {
	case s.Stop != "":
		stop.Add(look.NewBanner(faulttree.Danger, view.Sentence(s.Stop), look.NewText("Take no more readings. Go on now: the next page says what to do first.")))
	case s.Problem != "":
		stop.Add(look.NewCallout(faulttree.Warning, look.NewText(s.Problem)))
	}
	for _, g := range s.Others {
		stop.Add(parts.Given(w, g))
	}
	stop.Refresh()
	progress.SetText(s.Progress() + s.Ahead)
	parts.Enable(use, s.Given > 0 && s.Problem == "")
}

// sheetLine is one quantity of the sheet.
type sheetLine struct {
	object fyne.CanvasObject
	field  *look.Field
	note   *look.Prose
	unit   *look.Prose
	symbol string
}

func newSheetLine(row view.Asking, text string) *sheetLine {
	l := &sheetLine{field: look.NewField(""), note: look.NewSoft(""), unit: look.NewText(row.Unit), symbol: row.Unit}
	l.field.SetText(text)
	title := look.NewStrong(row.Title)
	about := look.NewSoft(parts.Settings(row.Chips))
	entry := look.Beside(150, 80, 12, l.field, look.Pad(10, 0, 0, 0, l.unit))
	l.object = look.Stack(8, look.Beside(440, 260, 20, look.Stack(0, title, about), look.Stack(4, entry, l.note)), look.NewLine())
	l.show(row)
	return l
}

func (l *sheetLine) show(row view.Asking) {
	unit := l.symbol
	if u := row.Typed.Uncertainty; u != "" {
		unit = strings.TrimSuffix(u, " "+l.symbol) + " " + l.symbol
	}
	l.unit.SetText(unit)
	l.note.Ink = look.ColorSoftInk
	switch {
	case row.Typed.Problem != "":
		l.note.SetText(row.Typed.Problem)
	case row.Danger != "":
		l.note.Ink = look.ColorInk
		l.note.SetText("DANGER: " + row.Danger + ".")
	default:
		l.note.SetText(row.Typed.Note)
	}
	parts.Show(l.note, l.note.Plain() != "")
}
