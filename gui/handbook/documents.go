package handbook

import (
	"strconv"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// documentPage shows one document.
func (a *Area) documentPage(at place.Location) frame.Page {
	doc, ok := view.DocumentOf(a.session.Book(), view.Kind(at.Kind), at.ID)
	if !ok {
		return a.window.Missing("There is no " + at.Kind + " “" + at.ID + "” in this handbook.")
	}
	p := frame.Page{Text: doc.Text()}
	crumb := look.NewSoft(doc.Above)
	if doc.Signal > faulttree.NoSignal {
		p.Body = append(p.Body, look.NewBanner(doc.Signal, view.Sentence(doc.Title), nil), crumb)
	} else {
		p.Body = append(p.Body, parts.Head(a.window, doc.Above, doc.Title))
	}
	p.Body = append(p.Body, look.MaxWidth(760, false, parts.Blocks(a.window, doc.Body)))
	p.Side = append(p.Side, parts.Links(a.window, "See also", doc.Related)...)
	p.Side = append(p.Side, parts.Links(a.window, "Sources", doc.Sources)...)
	if doc.Kind == view.KindSource && len(doc.Related) > 0 {
		p.Side = parts.Links(a.window, "What rests on it", doc.Related)
	}
	back := look.NewButton("Back", a.window.Back)
	row := look.Row(12, back)
	if v := a.session.Visit(); v != nil && !v.Walk().Ended() {
		row.Objects = append([]fyne.CanvasObject{look.NewPrimary("Back to the walk", func() { a.window.Go(v.Present()) })}, row.Objects...)
	}
	row.Add(look.NewButton("Copy page", a.window.CopyPage))
	row.Add(look.NewButton("Print", func() { a.window.Go(place.Print(doc.ID)) }))
	p.Body = append(p.Body, row)
	return p
}

// listPage lists the documents by kind, with a filter.
func (a *Area) listPage(at place.Location) frame.Page {
	list := look.Stack(look.GapSection)
	fill := func(filter string) {
		list.Objects = nil
		for _, s := range view.Handbook(a.session.Book(), view.Kind(at.Kind), filter) {
			section := look.Stack(10, look.NewCaption(s.Kind.Plural()+" · "+strconv.Itoa(len(s.Links))))
			cells := look.Grid(300, 10, 3)
			for _, l := range s.Links {
				cells.Add(look.NewLink(l.Title, func() { a.window.Go(place.Link(l)) }))
			}
			section.Add(cells)
			list.Add(section)
		}
		switch {
		case len(list.Objects) > 0:
		case strings.TrimSpace(filter) != "":
			list.Add(look.NewText("No title holds these words. The search above looks into the texts as well."))
		case at.Kind != "":
			list.Add(look.NewText("This handbook has no documents of this kind."))
		default:
			list.Add(look.NewText("This handbook has no documents. Its problems say what is expected in its folder."))
			list.Add(look.Row(12, look.NewPrimary("Problems of this handbook", func() { a.window.Go(place.Problems()) })))
		}
		list.Refresh()
	}
	filter := a.window.Field("Only titles with these words")
	filter.SetText(at.Query)
	filter.OnChanged = func(text string) {
		here := a.window.Here()
		here.Query = text
		a.window.Remember(here)
		fill(text)
	}
	fill(at.Query)
	kinds := look.Row(8)
	add := func(k view.Kind, name string) {
		kinds.Add(parts.Option(name, view.Kind(at.Kind) == k, func() { a.window.Go(place.Handbook(k, filter.Text)) }))
	}
	add("", "All")
	for _, k := range view.Kinds() {
		add(k, k.Plural())
	}
	whole := look.NewButton("Print all of it", func() { a.window.Go(place.Print(print.Handbook)) })
	row := look.Row(12, whole)
	if a.sources.Changed != nil {
		row.Add(look.NewButton("Page and text of what is saved", func() { a.window.Go(place.Edited("", 0)) }))
	}
	return frame.Page{Body: []fyne.CanvasObject{look.NewQuestion("Handbook"), kinds, look.MaxWidth(480, false, filter), list, row}}
}

// problemsPage lists what is wrong in the handbook in use.
func (a *Area) problemsPage(at place.Location) frame.Page {
	book := a.latest()
	list := look.Stack(12)
	var text strings.Builder
	for i, diag := range book.Diagnostics {
		text.WriteString(diag.String() + "\n")
		if i >= 300 {
			continue
		}
		list.Add(look.NewSelectable(diag.String()))
		if at := diag.Pos; book.Files[at.File] != nil {
			list.Add(look.NewLink("Page and text of "+at.File, func() { a.window.Go(place.Edited(at.File, at.Line)) }))
		}
	}
	intro := "Each line names the file, line and column, and says what was expected. A document with an error is left out or cannot be trusted; all others work."
	switch {
	case a.saved.held != nil:
		intro = a.saved.why() + " " + intro
	case len(book.Diagnostics) == 0:
		intro = "Nothing is wrong with it."
	}
	again := look.NewPrimary("Read the handbook again", a.Load)
	if a.reading {
		again = look.NewPrimary("Stop reading", a.CancelLoad)
	}
	if a.saved.held != nil {
		again = look.NewPrimary("Use it as saved", a.Load)
	}
	return frame.Page{Text: text.String(), Body: []fyne.CanvasObject{
		look.NewQuestion("Problems of this handbook"), look.NewText(intro), list,
		look.Row(12, again, look.NewButton("Copy page", a.window.CopyPage), look.NewButton("Back", a.window.Back)),
	}}
}
