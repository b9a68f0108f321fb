package scenarios

import (
	"context"
	"errors"
	"io/fs"
	"path/filepath"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/gui/frame"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// files is what the page asks of the machine.
type files interface {
	AskFolder(then func(at fyne.ListableURI, err error))
	AskOpen(ending string, then func(r fyne.URIReadCloser, err error))
	Save(path, text string, over bool) error // as [session.SaveScenario]
}

// disk is the machine's own.
type disk struct{ *frame.Frame }

func (disk) Save(path, text string, over bool) error { return session.SaveScenario(path, text, over) }

// saveInFolder asks for a folder and saves there, under the scenario's own name.
func (a *Area) saveInFolder(m *making) {
	s, _, problems := m.form.Scenario(context.Background(), a.book)
	if len(problems) > 0 {
		return
	}
	a.files.AskFolder(parts.Chosen(a.window, "The scenario was not saved.", func(at fyne.ListableURI) {
		a.save(m, filepath.Join(at.Path(), s.ID+".md"), false)
	}))
}

// save puts a scenario into its file and says so, or why not; then nothing has changed
// on disk, and the form stays.
func (a *Area) save(m *making, path string, over bool) {
	s, text, problems := m.form.Scenario(context.Background(), a.book)
	if len(problems) > 0 {
		a.window.Say("The scenario was not saved. " + problems[0].Text)
		return
	}
	m.taken = ""
	err := a.files.Save(path, text, over)
	switch {
	case errors.Is(err, fs.ErrExist):
		m.taken, m.focus = path, "over"
		a.window.Say("Nothing was written: there is a file " + path + " already.")
		return
	case err != nil:
		a.window.Say("The scenario could not be written to " + path + ". What you typed is still here. " + view.Capital(view.Sentence(err.Error())))
		return
	}
	m.path, m.changed, m.form.ID = path, false, s.ID
	a.Keep()
	a.window.Say("The scenario was saved to " + path + ".")
}

// openFile asks for a scenario to change.
func (a *Area) openFile() {
	a.files.AskOpen(".md", parts.Chosen(a.window, "The scenario was not opened.", a.take))
}

// take opens a scenario in the form. What was typed of the same file and not saved
// comes first.
func (a *Area) take(r fyne.URIReadCloser) {
	defer r.Close() // it was only read
	path := r.URI().Path()
	id := fromFile + path
	if m := a.made[id]; m != nil && m.changed {
		a.window.Go(place.Form(id), "These are your changes to this file, which were not saved yet.")
		return
	}
	s, err := session.ReadScenario(context.Background(), a.book, r.URI().Name(), r, nil)
	if err != nil {
		a.window.Say("This scenario cannot be opened: " + view.Sentence(err.Error()))
		return
	}
	a.made[id] = &making{form: scenes.FormOf(s), path: path}
	a.window.Go(place.Form(id))
}

// dropped throws away what was typed of a scenario.
func (a *Area) dropped(at place.Location) {
	delete(a.made, at.ID)
	a.Keep()
	a.window.Return("What was typed was thrown away. No file was touched.")
}
