// Package scenarios is the page on which an instructor makes a scenario without
// knowing how its file is written.
package scenarios

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the page of the form.
type Area struct {
	window  *frame.Frame
	session *session.Session
	files   files
	book    *content.Library   // by which the forms were made; nil until the page was arrived at
	made    map[string]*making // by the id of their place
	kept    time.Time          // when the drafts were put on disk
	failing bool               // they cannot be, which was said
}

// New makes the page.
func New(w *frame.Frame, s *session.Session) *Area {
	return &Area{window: w, session: s, files: disk{w}}
}

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{place.FormPage: {Rail: rail, Arrive: a.arrive, Build: a.page, Leave: a.leave}}
}

// making is a scenario that is being made.
type making struct {
	form    scenes.Form
	path    string // its file; "" before there is one
	changed bool   // since it was made, or saved
	taken   string // the file that stands where it was to be saved
	drop    bool   // whether it is to be thrown away is asked
	seen    bool   // all that can be said to have been seen is shown
	focus   string // what of the page was used last
	check   check
}

// title is what was typed as one, in one line.
func (m *making) title() string { return strings.Join(strings.Fields(m.form.Title), " ") }

// fromFile begins the id of the place of a scenario that was opened from a file.
const fromFile = "file:"

// arrive brings the forms to the handbook in use, and begins the one of the place.
func (a *Area) arrive(at place.Location) (string, error) {
	said := a.toBook()
	if a.made[at.ID] != nil {
		return said, nil
	}
	if strings.HasPrefix(at.ID, fromFile) {
		return said, errors.New("This file is not open any more. Open it again under “Make a scenario”.")
	}
	m := &making{form: scenes.Form{Role: faulttree.Qualified}}
	if at.ID != "" {
		s := a.session.Scenario(at.ID)
		if s == nil {
			return said, errors.New("There is no such scenario.")
		}
		m.form = scenes.FormOf(s)
	}
	a.made[at.ID] = m
	return said, nil
}

// toBook takes the forms over to the handbook in use; at first those that were kept
// when the program ended. What is to be told is returned.
func (a *Area) toBook() (said string) {
	book := a.session.Book()
	if a.book == book {
		return ""
	}
	was, old := a.made, a.book
	a.book, a.made = book, map[string]*making{}
	if old == nil {
		text, err := a.session.Drafts()
		if err == nil && text != nil {
			err = a.readDrafts(text)
		}
		if err != nil {
			return "Scenarios that were being made could not be read. " + view.Capital(view.Sentence(err.Error()))
		}
		return ""
	}
	a.window.Runner().Cancel(jobCheck)
	for id, m := range was {
		text, err := m.form.Draft(old)
		if err == nil {
			m.form, err = scenes.FormOfDraft(context.Background(), book, text)
		}
		if err != nil { // then it stays as it was
			said = fmt.Sprintf("A scenario that is being made could not be taken over: %v.", err)
		}
		m.check = check{}
		a.made[id] = m
	}
	return said
}

// leave is called when the reader goes elsewhere: a check that is under way is
// stopped, and what was typed is put on disk.
func (a *Area) leave() {
	a.stopCheck()
	a.Keep()
}

// others lists what else is being made and is not saved, by title and place.
func (a *Area) others(but string) []view.Choice {
	var out []view.Choice
	for id, m := range a.made {
		if id != but && m.changed {
			title := cmp.Or(m.title(), "A scenario without a title")
			out = append(out, view.Choice{ID: id, Text: title})
		}
	}
	slices.SortFunc(out, func(a, b view.Choice) int {
		return cmp.Or(strings.Compare(a.Text, b.Text), strings.Compare(a.ID, b.ID))
	})
	return out
}
