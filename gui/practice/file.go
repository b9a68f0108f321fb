package practice

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"path/filepath"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/gui/frame"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// openScenario asks for a file that an instructor has handed out.
func (a *Area) openScenario() {
	a.window.AskOpen(".md", func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			a.window.Say("The scenario was not opened. " + view.Sentence(err.Error()))
		case r != nil:
			a.takeScenario(r.URI().Name(), r)
		}
	})
}

const jobFile = "scenario file"

// takeScenario reads a scenario that was handed out, away from the window's
// goroutine, and shows it or says what is wrong with it. Leaving the page
// drops it.
func (a *Area) takeScenario(name string, r io.ReadCloser) {
	book := a.session.Book()
	a.file, a.bytes = name, 0
	a.window.Render()
	frame.TryTelling(a.window.Runner(), jobFile, func(ctx context.Context, tell func(done, total int)) (*content.Scenario, error) {
		return readScenario(ctx, book, name, r, func(bytes int) { tell(bytes, load.MostScenario) })
	}, func(bytes, _ int) {
		a.bytes = bytes
		a.window.Render()
	}, func(s *content.Scenario, err error) {
		a.file = ""
		if err == nil && book != a.session.Book() {
			err = errors.New("The handbook was read anew meanwhile. Open the file again.")
		}
		if err == nil {
			_, err = a.try(s, nil)
		}
		if err != nil {
			a.window.Say(err.Error())
			return
		}
		a.session.HandOut(s)
		a.window.Go(place.Scenario(s.ID))
	})
}

// saveAsFile asks for a folder and saves a scenario there, for an instructor to
// change. Nothing of its answer is shown.
func (a *Area) saveAsFile(s *content.Scenario) {
	a.window.AskFolder(parts.Chosen(a.window, "The scenario was not saved.", func(at fyne.ListableURI) { a.saveIn(at.Path(), s) }))
}

// saveIn saves a scenario in a folder, unless there is something of its name.
func (a *Area) saveIn(folder string, s *content.Scenario) {
	path := filepath.Join(folder, s.ID+".md")
	switch err := session.SaveScenario(path, load.ScenarioText(a.session.Book(), s), false); {
	case errors.Is(err, fs.ErrExist):
		a.window.Say("Nothing was written: there is a file " + path + " already. Choose another folder.")
	case err != nil:
		a.window.Say("The scenario could not be written to " + path + ". " + view.Capital(view.Sentence(err.Error())))
	default:
		a.window.Say("The scenario was saved to " + path + ". “Make a scenario” opens it to be changed; it holds the answer.")
	}
}

// dropFile leaves a file unread, as when the page is left.
func (a *Area) dropFile() {
	a.window.Runner().Cancel(jobFile)
	a.file = ""
}

// readScenario reads a scenario and closes its file. The error is a sentence.
func readScenario(ctx context.Context, book *content.Library, name string, r io.ReadCloser, tell func(bytes int)) (*content.Scenario, error) {
	defer r.Close() // it was only read
	s, err := session.ReadScenario(ctx, book, name, r, tell)
	if err != nil {
		return nil, fmt.Errorf("This scenario cannot be played: %s", view.Sentence(err.Error()))
	}
	return s, nil
}
