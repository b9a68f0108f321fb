// Package class is the pages of an instructor and a class: an assignment made and
// handed out, taken part in, and what was handed in verified and tabled. What a class
// is, and every word about it, comes from package content/class.
package class

import (
	"cmp"
	"io"
	"net/url"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// files is how files and folders are chosen.
type files interface {
	AskOpen(ending string, then func(fyne.URIReadCloser, error))
	AskSave(name, ending string, then func(fyne.URIWriteCloser, error))
	AskFolder(then func(fyne.ListableURI, error))
	OpenFile(*url.URL) error
}

// Area is the pages of a class.
type Area struct {
	window  *frame.Frame
	files   files
	session *session.Session

	book   *content.Library // that what follows was read with
	making making
	taking *taking // nil until an assignment was opened
	opened opened
}

// New makes the pages.
func New(w *frame.Frame, s *session.Session) *Area { return &Area{window: w, files: w, session: s} }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	entry := func(build func(place.Location) frame.Page) frame.Entry {
		return frame.Entry{Rail: rail, Build: build, Arrive: a.arrive}
	}
	pages := map[place.Page]frame.Entry{
		place.ClassPage: entry(a.classPage), place.AssignPage: entry(a.assignPage), place.TasksPage: entry(a.tasksPage),
		place.HandedInPage: entry(a.tablePage), place.AttemptPage: entry(a.attemptPage), place.RubricPage: entry(a.rubricPage),
	}
	table := pages[place.HandedInPage]
	table.Leave = a.stopOpening
	pages[place.HandedInPage] = table
	attempt := pages[place.AttemptPage]
	attempt.Arrive = a.arriveAtAttempt
	pages[place.AttemptPage] = attempt
	return pages
}

// arrive drops what was handed in, where it was read with another handbook than the one in
// use. What an instructor has typed stays, and so does an assignment that is open: the
// session has said where that was not so.
func (a *Area) arrive(place.Location) (said string, err error) {
	if a.book == a.session.Book() {
		return "", nil
	}
	if a.opened.all != nil {
		said = "The handbook was read anew. Open the folder again."
	}
	a.book, a.opened = a.session.Book(), opened{}
	if of, scenarios := a.session.TakesPart(); a.taking != nil && of == a.taking.assignment {
		a.taking.scenarios = scenarios
	} else {
		a.taking = nil
	}
	return said, nil
}

// classPage is where an instructor and a learner begin.
func (a *Area) classPage(place.Location) frame.Page {
	go1, go2, go3 := "Choose vehicles, say how much help there is, and save one file for your learners.",
		"Open the file that your instructor gave you, work on it, and save one file to hand in.",
		"Open the folder with the files of your learners: each attempt verified and marked, the class on one page."
	if len(a.making.chosen) > 0 {
		go1 = "Go on: " + view.Count(len(a.making.chosen), "vehicle") + " chosen so far."
	}
	if a.taking != nil {
		go2 = "Go on: " + a.taking.assignment.Title + "."
	}
	if a.opened.all != nil {
		go3 = "Go on: " + a.opened.all.Assignment.Title + "."
	}
	body := []fyne.CanvasObject{
		parts.Head(a.window, "Practice", "A class"),
		look.Grid(300, 14, 3,
			look.NewChoice(1, "Hand out", go1, func() { a.window.Go(place.Assign()) }),
			look.NewChoice(2, "Take part", go2, a.takePart),
			look.NewChoice(3, "Handed in", go3, a.toTable),
		),
		look.NewCallout(faulttree.Notice, look.NewText(paper.HonestLine)),
	}
	row := look.Row(12)
	if a.session.Book().Rubric != nil {
		row.Add(look.NewButton("How attempts are marked", func() { a.window.Go(place.Rubric()) }))
	}
	row.Add(look.NewButton("Open a feedback", a.openFeedback))
	row.Add(look.NewButton("Practise by yourself", func() { a.window.Go(place.Scenarios()) }))
	row.Add(look.NewButton("Back", a.window.Back))
	return frame.Page{Body: append(body, row)}
}

// openFeedback shows what came back to a learner with the program that the desktop has
// for pages. Any other page is refused: it may be of anybody's making.
func (a *Area) openFeedback() {
	a.files.AskOpen(".html", parts.Chosen(a.window, "The feedback was not opened.", func(r fyne.URIReadCloser) {
		err := paper.CheckPage(r)
		r.Close() // it was only read
		if err == nil {
			err = a.files.OpenFile(&url.URL{Scheme: "file", Path: r.URI().Path()})
		}
		if err != nil {
			a.window.Say("The feedback was not opened. " + view.Capital(view.Sentence(err.Error())))
			return
		}
		a.window.Say("The feedback opens in the program that your computer has for pages.")
	}))
}

// save puts a text into the file that the reader chooses, and says where it is.
func (a *Area) save(name, ending, what string, write func(io.Writer) error) {
	a.files.AskSave(name, ending, parts.Chosen(a.window, what+" was not saved.", func(w fyne.URIWriteCloser) {
		if err := cmp.Or(write(w), w.Close()); err != nil {
			a.window.Say(what + " could not be written to " + w.URI().Path() + ". " + view.Capital(view.Sentence(err.Error())))
			return
		}
		a.window.Say(what + " is in " + w.URI().Path() + ".")
	}))
}

// bytesOf writes bytes that were made before.
func bytesOf(raw []byte) func(io.Writer) error {
	return func(w io.Writer) error {
		_, err := w.Write(raw)
		return err
	}
}

// rubricPage is how attempts are marked, for an instructor and a learner alike.
func (a *Area) rubricPage(place.Location) frame.Page {
	r := a.session.Book().Rubric
	if r == nil {
		return a.window.Missing("This handbook has no rubric, so it does not say how attempts are marked.")
	}
	lines := func(all []class.RubricLine) fyne.CanvasObject {
		out := look.Grid(420, 24, 2)
		for _, line := range all {
			out.Add(look.NewTrailRow(line.Title, line.Text, nil))
		}
		return out
	}
	return frame.Page{Body: []fyne.CanvasObject{
		parts.Head(a.window, "Practice · a class", r.Title),
		parts.Blocks(a.window, r.Body),
		look.Stack(8, look.NewCaption("Unsafe acts: with one of these, at most"), lines(class.CapLines(r.Rubric))),
		look.Stack(8, look.NewCaption("Points"), lines(class.PartLines(r.Rubric))),
		look.Stack(8, look.NewCaption("The numbers that the text names"), lines(class.KeyLines(r.Rubric))),
		look.Row(12, look.NewButton("Back", a.window.Back)),
	}}
}
