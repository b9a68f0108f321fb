package scenarios

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"time"

	"faultwright/content/view"
	"faultwright/content/view/scenes"
)

// draft is a scenario that is being made, as it is kept on disk until it is saved.
type draft struct {
	At   string // the id of its place
	Path string `json:",omitempty"`
	Form json.RawMessage
}

// betweenDrafts is how long what is typed may wait for the disk.
const betweenDrafts = 2 * time.Second

// keepSoon puts what was typed on disk, unless that was done a moment ago.
func (a *Area) keepSoon() {
	if a.session.Now().Sub(a.kept) >= betweenDrafts {
		a.Keep()
	}
}

// Keep puts all that was typed and not saved on disk, for a program that ends before
// it is saved. Call it when the window closes.
func (a *Area) Keep() {
	if a.book == nil {
		return
	}
	all := []draft{}
	for at, m := range a.made {
		if !m.changed {
			continue
		}
		text, err := m.form.Draft(a.book)
		if err != nil {
			a.notKept(err)
			return
		}
		all = append(all, draft{at, m.path, text})
	}
	text, err := json.Marshal(all)
	if err == nil {
		err = a.session.KeepDrafts(text)
	}
	a.kept = a.session.Now()
	a.notKept(err)
}

// notKept says once that drafts cannot be kept.
func (a *Area) notKept(err error) {
	if err != nil && !a.failing {
		a.window.Say("What you type here is not kept if the program ends before it is saved. " + view.Capital(view.Sentence(err.Error())))
	}
	a.failing = err != nil
}

// mostForms is how many scenarios are taken up from drafts.
const mostForms = 100

func (a *Area) readDrafts(text []byte) error {
	var all []draft
	if err := json.Unmarshal(text, &all); err != nil {
		return fmt.Errorf("the drafts cannot be read: %w", err)
	}
	if len(all) > mostForms {
		return errors.New("there are more drafts than anybody makes")
	}
	for _, d := range all {
		f, err := scenes.FormOfDraft(context.Background(), a.book, d.Form)
		if err != nil {
			return err
		}
		a.made[d.At] = &making{form: f, path: d.Path, changed: true}
	}
	return nil
}
