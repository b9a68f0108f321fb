package practice

import (
	"fmt"
	"io"

	"fyne.io/fyne/v2"

	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/gui/place"
)

// mostScenario bounds a file that was handed out, in bytes.
const mostScenario = 256 << 10

// openScenario asks for a file that an instructor has handed out.
func (a *Area) openScenario() {
	a.window.AskOpen(".md", func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			a.window.Say("The scenario was not opened. " + view.Sentence(err.Error()))
		case r != nil:
			a.takeScenario(r.URI().Name(), r)
			_ = r.Close()
		}
	})
}

// takeScenario reads a scenario that was handed out and shows it, or says what
// is wrong with it.
func (a *Area) takeScenario(name string, r io.Reader) {
	text, err := io.ReadAll(io.LimitReader(r, mostScenario+1))
	switch {
	case err != nil:
		a.window.Say("The scenario could not be read. " + view.Sentence(err.Error()))
		return
	case len(text) > mostScenario:
		a.window.Say(fmt.Sprintf("%s is larger than %d KiB; it is not read.", name, mostScenario>>10))
		return
	}
	s, list := load.Scenario(a.session.Book(), name, text)
	if s == nil {
		why := "something is wrong with it"
		if len(list) > 0 {
			why = list[0].Error()
		}
		a.window.Say("This scenario cannot be played: " + view.Sentence(why))
		return
	}
	if _, err := a.try(s); err != nil {
		a.window.Say("This scenario cannot be played. " + view.Sentence(err.Error()))
		return
	}
	a.session.HandOut(s)
	a.window.Go(place.Scenario(s.ID))
}
