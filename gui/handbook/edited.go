package handbook

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// editedPage shows a page of the handbook beside its text, with the problems of the
// file above both. Without a file it follows what was saved last.
func (a *Area) editedPage(at place.Location) frame.Page {
	if at.ID == "" {
		at = place.Edited(a.saved.file, a.saved.line)
	}
	row := look.Row(12, look.NewButton("All problems", func() { a.window.Go(place.Problems()) }))
	back := look.NewButton("Back", a.window.Back)
	e, ok := view.EditedAt(a.latest(), at.ID, at.Step)
	if !ok {
		text := "Nothing was saved since the window was opened. What is saved next stands here beside its text."
		switch {
		case at.ID != "":
			text = "This handbook has no file " + at.ID + "."
		case a.sources.Changed == nil:
			text = "This handbook is not read from a folder that somebody edits. Start the program with -content and a folder, and what is saved there stands here beside its text."
		}
		row.Add(back)
		return frame.Page{Body: []fyne.CanvasObject{look.NewQuestion("Page and text"), look.NewText(text), row}}
	}
	body := []fyne.CanvasObject{parts.Head(a.window, "Page and text", e.File)}
	if a.saved.held != nil {
		body = append(body, look.NewText(a.saved.why()))
	}
	if len(e.Problems) > 0 {
		list := look.Stack(6, look.NewStrong(view.Count(len(e.Problems), "problem")))
		for _, p := range e.Problems[:min(len(e.Problems), 20)] {
			list.Add(look.NewSelectable(p))
		}
		body = append(body, look.NewCallout(faulttree.Notice, list))
	} else {
		body = append(body, look.NewSoft("Nothing is wrong with this file."))
	}
	text := look.Stack(8, look.NewCaption("Text"), parts.Blocks(a.window, []document.Block{document.Code{Text: strings.Join(e.Lines, "\n")}}))
	if e.More > 0 {
		text.Add(look.NewSoft("And " + view.Count(e.More, "line") + " more of this file."))
	}
	body = append(body, look.Grid(380, 24, 2, a.drawn(e), text))
	if e.Page.Kind != "" {
		row.Add(look.NewButton("Open the page", func() { a.window.Go(place.Link(e.Page)) }))
	}
	if e.Tree != "" {
		row.Add(look.NewButton("See the walk whole", func() { a.window.Go(place.Flow(e.Tree, "")) }))
	}
	row.Add(back)
	return frame.Page{Body: append(body, row)}
}
