package gui

import (
	"context"
	"fmt"
	"io"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/dialog"
	"fyne.io/fyne/v2/storage"

	"faultwright/content"
	"faultwright/content/load"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scene"
	"faultwright/gui/look"
)

// practising is what has been practised since the window opened: attempts
// under way and ended, and scenarios that were handed out as files.
type practising struct {
	book   *content.Library
	tries  map[string]*trying // by scenario
	handed map[string]*content.Scenario
	now    string // the scenario that was shown last
}

// trying is one attempt.
type trying struct {
	scenario   *content.Scenario
	c          practice.Case
	v          *practice.Learner
	scene      *scene.Scene // knows the test points
	a          practice.Attempt
	last       practice.Act // the reading on the display
	red, black string
	blackNext  bool // the next point that is tapped takes the black probe
	naming     int  // chosen in the list of faults, from 1
	review     *practice.Review
}

// scenarioOf finds a scenario, handed out or shipped.
func (d *Desk) scenarioOf(id string) *content.Scenario {
	if s := d.practice.handed[id]; s != nil && d.practice.book == d.book {
		return s
	}
	return d.book.Scenarios[id]
}

// try is the attempt at a scenario, begun if there is none.
func (d *Desk) try(s *content.Scenario) (*trying, error) {
	if d.practice.book != d.book {
		d.practice = practising{book: d.book, tries: map[string]*trying{}, handed: map[string]*content.Scenario{}}
	}
	if t := d.practice.tries[s.ID]; t != nil && t.scenario == s {
		return t, nil
	}
	t := &trying{scenario: s, c: view.CaseOf(d.book, s), a: practice.Attempt{Case: s.ID}}
	var err error
	if t.v, err = t.c.Begin(d.settings.Meter); err != nil {
		return nil, err
	}
	if t.scene, err = scene.New(s.Rig, view.SceneBook(d.book, d.settings.Meter)); err != nil {
		return nil, err
	}
	d.practice.tries[s.ID] = t
	return t, nil
}

// scenariosPane lists the vehicles to practise on.
func (d *Desk) scenariosPane(at Location) pane {
	body := []fyne.CanvasObject{
		look.NewQuestion("Practice"),
		look.NewText("Somebody tells what their vehicle does. What is wrong with it, if anything, is hidden. Take readings with a meter that behaves like yours, then name the fault: " +
			"after that you see every voltage, what other faults would have shown, and what would have hurt you."),
	}
	open := look.NewButton("Open a scenario from a file", d.openScenario)
	groups := look.Stack(look.GapBlock)
	var grid *fyne.Container
	rig := ""
	for i, s := range view.Scenarios(d.book) {
		if s.Rig.Title != rig {
			rig = s.Rig.Title
			grid = look.Grid(300, 14, 2)
			groups.Add(look.Stack(8, look.NewCaption(rig), grid))
		}
		digit := 0
		if i < 9 {
			digit = i + 1
		}
		grid.Add(look.NewChoice(digit, s.Title, d.howFar(s), func() { d.Go(Location{Page: pageScenario, ID: s.ID}) }))
	}
	if len(d.book.Scenarios) == 0 {
		groups.Add(look.NewText("This handbook has no scenarios of its own. One that was handed out as a file can be opened."))
	}
	return pane{body: append(body, groups, look.Row(12, open, look.NewButton("Back", d.Back)))}
}

// findPractice leads to the scenario under way, or to the list if the reader is
// looking at it already.
func (d *Desk) findPractice() {
	t := d.practice.tries[d.practice.now]
	if t != nil && d.practice.book == d.book && !t.a.Ended() && pages[d.Here().Page].rail != railPractice {
		d.Go(Location{Page: pageScenario, ID: d.practice.now})
		return
	}
	d.Go(Location{Page: pageScenarios})
}

// howFar says what has become of a scenario since the window opened.
func (d *Desk) howFar(s *content.Scenario) string {
	t := d.practice.tries[s.ID]
	switch {
	case t == nil || len(t.a.Acts) == 0 && t.review == nil:
		return view.Teaser(s)
	case t.review == nil:
		return "Under way: " + count(len(t.a.Readings()), "reading") + " so far."
	case t.review.Right:
		return "Found, with " + count(t.review.Count, "reading") + "."
	}
	return "Named something else, after " + count(t.review.Count, "reading") + "."
}

// mostScenario bounds a file that was handed out, in bytes.
const mostScenario = 256 << 10

// openScenario asks for a file that an instructor has handed out.
func (d *Desk) openScenario() {
	ask := dialog.NewFileOpen(func(r fyne.URIReadCloser, err error) {
		switch {
		case err != nil:
			d.say("The scenario was not opened. " + view.Sentence(err.Error()))
		case r != nil:
			d.takeScenario(r.URI().Name(), r)
			_ = r.Close()
		}
	}, d.window)
	ask.SetFilter(storage.NewExtensionFileFilter([]string{".md"}))
	ask.Show()
	room := d.window.Canvas().Size()
	ask.Resize(fyne.NewSize(min(room.Width-24, 900), min(room.Height-24, 640))) // only a dialog that is shown has a size
}

// takeScenario reads a scenario that was handed out and shows it, or says what
// is wrong with it.
func (d *Desk) takeScenario(name string, r io.Reader) {
	text, err := io.ReadAll(io.LimitReader(r, mostScenario+1))
	switch {
	case err != nil:
		d.say("The scenario could not be read. " + view.Sentence(err.Error()))
		return
	case len(text) > mostScenario:
		d.say(fmt.Sprintf("%s is larger than %d KiB; it is not read.", name, mostScenario>>10))
		return
	}
	s, list := load.Scenario(d.book, name, text)
	if s == nil {
		why := "something is wrong with it"
		if len(list) > 0 {
			why = list[0].Error()
		}
		d.say("This scenario can not be played: " + view.Sentence(why))
		return
	}
	if _, err := d.try(s); err != nil {
		d.say("This scenario can not be played. " + view.Sentence(err.Error()))
		return
	}
	d.practice.handed[s.ID] = s
	d.Go(Location{Page: pageScenario, ID: s.ID})
}

// scenarioPane is one scenario: the story and the work on it, or the look back.
func (d *Desk) scenarioPane(at Location) pane {
	s := d.scenarioOf(at.ID)
	if s == nil {
		return d.missingPane("There is no such scenario.")
	}
	t, err := d.try(s)
	if err != nil {
		return d.missingPane("This scenario can not be played. " + view.Sentence(err.Error()))
	}
	d.practice.now = s.ID
	if t.a.Ended() {
		return d.lookBack(t)
	}
	return newPlay(d, t).pane()
}

const jobReview = "review"

// name takes the fault that the learner names and looks back.
func (d *Desk) name(t *trying, fault string) {
	t.a = t.a.Name(fault)
	d.render()
	type looked struct {
		review practice.Review
		err    error
	}
	c, a, book := t.c, t.a, view.ReviewBook(d.book, t.scenario, d.settings.Meter)
	Run(&d.runner, jobReview+t.scenario.ID, func(context.Context) looked {
		r, err := c.Review(a, book)
		return looked{r, err}
	}, func(l looked) {
		if l.err != nil {
			t.a.Named = ""
			d.say("Looking back failed. " + view.Sentence(l.err.Error()))
			return
		}
		t.review = &l.review
		if d.Here().ID == t.scenario.ID {
			d.render()
			d.shell.scrollTo(0)
		}
	})
}

// again begins a scenario anew.
func (d *Desk) again(s *content.Scenario) {
	delete(d.practice.tries, s.ID)
	d.render()
	d.shell.scrollTo(0)
}

// signalOf is the signal word above a verdict.
func signalOf(right bool) faulttree.Signal {
	if right {
		return faulttree.Notice
	}
	return faulttree.Caution
}
