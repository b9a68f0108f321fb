package handbook

import (
	"cmp"

	"fyne.io/fyne/v2"

	"faultwright/content/print"
	"faultwright/content/view"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// arriveAtPrint comes to a page that was not saved yet.
func (a *Area) arriveAtPrint(place.Location) (string, error) {
	a.pinned = nil
	return "", nil
}

// printPage saves something of the handbook as a page to pin up.
func (a *Area) printPage(at place.Location) frame.Page {
	title, ok := print.Title(a.session.Book(), at.ID)
	if !ok {
		return a.window.Missing("There is nothing to print by the name “" + at.ID + "” in this handbook.")
	}
	papers := look.Row(8)
	for _, p := range []print.Paper{print.A4, print.Letter} {
		papers.Add(parts.Option(p.Title, a.paper == p, func() {
			a.paper = p
			a.window.Render()
		}))
	}
	open := look.NewButton("Open it", func() {
		if err := a.files.OpenFile(a.pinned); err != nil {
			a.window.Say("The page could not be opened. " + view.Capital(view.Sentence(err.Error())))
		}
	})
	parts.Enable(open, a.pinned != nil) // it has its place before there is something to open
	save := func(form bool) func() {
		return func() { a.savePage(at.ID, form) }
	}
	foot := look.Row(12, look.NewPrimary("Save the page (HTML)", save(false)))
	body := []fyne.CanvasObject{
		parts.Head(a.window, "Print", title),
		look.NewText("The page is one file that any browser prints, in black and white as well. It says of which handbook it is and when it was printed: readings alone clear nothing, on paper neither."),
		look.Stack(4, look.NewStrong("Paper"), papers),
	}
	if a.session.Book().Forest.Tree(at.ID) != nil {
		foot.Add(look.NewButton("Save the blank form", save(true)))
		body = append(body, look.NewText("The blank form has a line for each reading of this walk. What is written on it can be typed in later, under “What fits” or in a terminal."))
	}
	foot.Add(open)
	foot.Add(look.NewButton("Back", a.window.Back))
	return frame.Page{Body: body, Foot: foot}
}

// savePage asks for a file and puts the page, or the form, into it.
func (a *Area) savePage(id string, form bool) {
	o := print.Options{Paper: a.paper, Printed: a.session.Now(), Form: form}
	text, err := print.Bytes(a.session.Book(), id, o)
	if err != nil {
		a.window.Say("The page was not made. " + view.Capital(view.Sentence(err.Error())))
		return
	}
	a.files.AskSave(print.FileName(id, o), ".html", parts.Chosen(a.window, "The page was not saved.", func(w fyne.URIWriteCloser) {
		at, said := parts.Save(w, "The page", text, "")
		a.pinned = cmp.Or(at, a.pinned)
		a.window.Say(said)
	}))
}
