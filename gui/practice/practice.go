// Package practice is the pages on which finding a hidden fault is practised.
package practice

import (
	"context"
	"errors"
	"fmt"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	"faultwright/faulttree/scene"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// Area is the pages of practice.
type Area struct {
	window   *frame.Frame
	session  *session.Session
	practice practising
	file     string // a scenario that is being read; "" for none
	bytes    int    // how many of it have been read
}

// New makes the pages.
func New(w *frame.Frame, s *session.Session) *Area { return &Area{window: w, session: s} }

// Pages are the entries of the window's table, under an entry of its rail.
func (a *Area) Pages(rail string) map[place.Page]frame.Entry {
	return map[place.Page]frame.Entry{
		place.ScenariosPage: {Rail: rail, Build: a.listPage, Leave: a.dropFile},
		place.ScenarioPage:  {Rail: rail, Build: a.scenarioPage, Arrive: a.arrive},
	}
}

// practising is what has been practised since the window opened: attempts
// under way and ended.
type practising struct {
	book  *content.Library
	tries map[string]*trying // by scenario
	now   string             // the scenario that was shown last

	picture bool // the vehicle is shown as a picture, not as a diagram
}

// trying is one attempt.
type trying struct {
	scenario   *content.Scenario
	c          practice.Case
	v          *practice.Learner
	scene      *scene.Scene // knows the test points
	attempt    practice.Attempt
	last       practice.Act // the reading on the display
	red, black string
	blackNext  bool // the next point that is tapped takes the black probe
	begun      bool // the story was read
	story      bool // it is shown again
	naming     int  // chosen in the list of faults, from 1
	review     *practice.Review
}

// try is the attempt at a scenario, begun if there is none. The error is a
// sentence.
func (a *Area) try(s *content.Scenario) (*trying, error) {
	if a.practice.book != a.session.Book() {
		a.practice = practising{book: a.session.Book(), tries: map[string]*trying{}}
	}
	if t := a.practice.tries[s.ID]; t != nil && t.scenario == s {
		return t, nil
	}
	t := &trying{scenario: s, c: scenes.CaseOf(a.session.Book(), s), attempt: practice.Attempt{Case: s.ID, Meter: a.session.Settings().Meter}}
	var err error
	if t.v, err = t.c.Begin(a.session.Settings().Meter); err != nil {
		return nil, unplayable(err)
	}
	if t.scene, err = scene.New(s.Rig, scenes.Book(a.session.Book(), a.session.Settings().Meter)); err != nil {
		return nil, unplayable(err)
	}
	a.practice.tries[s.ID] = t
	return t, nil
}

func unplayable(err error) error {
	return fmt.Errorf("This scenario cannot be played. %s", view.Sentence(err.Error()))
}

// listPage lists the vehicles to practise on.
func (a *Area) listPage(at place.Location) frame.Page {
	body := []fyne.CanvasObject{
		look.NewQuestion("Practice"),
		look.NewText("Somebody tells what their vehicle does. What is wrong with it, if anything, is hidden. Take readings with a meter that behaves like yours, then name the fault: " +
			"after that you see every voltage, what other faults would have shown, and what would have hurt you."),
	}
	open := look.NewButton("Open a scenario from a file", a.openScenario)
	groups := look.Stack(look.GapBlock)
	var grid *fyne.Container
	rig := ""
	for i, s := range view.Scenarios(a.session.Book()) {
		if s.Rig.Title != rig {
			rig = s.Rig.Title
			grid = look.Grid(300, 14, 2)
			groups.Add(look.Stack(8, look.NewCaption(rig), grid))
		}
		digit := 0
		if i < 9 {
			digit = i + 1
		}
		grid.Add(look.NewChoice(digit, s.Title, a.howFar(s), func() { a.window.Go(place.Scenario(s.ID)) }))
	}
	if len(a.session.Book().Scenarios) == 0 {
		groups.Add(look.NewText("This handbook has no scenarios of its own. One that was handed out as a file can be opened."))
	}
	if a.file != "" {
		stop := look.NewButton("Stop reading it", func() {
			a.dropFile()
			a.window.Say("The file was not read.")
		})
		body = append(body, look.NewText(fmt.Sprintf("Reading %s, %d KiB so far. Leaving this page stops it as well.", a.file, a.bytes>>10)), look.Row(12, stop))
	}
	return frame.Page{Body: append(body, groups, look.Row(12, open, look.NewButton("Back", a.window.Back)))}
}

// UnderWay is the scenario that was shown last, if it has not ended.
func (a *Area) UnderWay() (place.Location, bool) {
	t := a.practice.tries[a.practice.now]
	if t == nil || a.practice.book != a.session.Book() || t.attempt.Ended() {
		return place.Location{}, false
	}
	return place.Scenario(a.practice.now), true
}

// howFar says what has become of a scenario since the window opened.
func (a *Area) howFar(s *content.Scenario) string {
	t := a.practice.tries[s.ID]
	switch {
	case t == nil || len(t.attempt.Acts) == 0 && t.review == nil:
		return view.Teaser(s)
	case t.review == nil:
		return "Under way: " + view.Count(len(t.attempt.Readings()), "reading") + " so far."
	case t.review.Right:
		return "Found, with " + view.Count(t.review.Count, "reading") + "."
	}
	return "Named something else, after " + view.Count(t.review.Count, "reading") + "."
}

// arrive goes on with the attempt at a scenario, or begins one.
func (a *Area) arrive(at place.Location) (string, error) {
	s := a.session.Scenario(at.ID)
	if s == nil {
		return "", errors.New("There is no such scenario.")
	}
	if _, err := a.try(s); err != nil {
		return "", err
	}
	a.practice.now = s.ID
	return "", nil
}

// scenarioPage is one scenario: the story and the work on it, or the look back.
func (a *Area) scenarioPage(at place.Location) frame.Page {
	t := a.practice.tries[at.ID]
	if t.attempt.Ended() {
		return a.lookBack(t)
	}
	if !t.begun {
		return a.beginPage(t)
	}
	return newBench(a, t).page()
}

const jobReview = "review"

// name takes the fault that the learner names and looks back.
func (a *Area) name(t *trying, fault string) {
	t.attempt = t.attempt.Name(fault)
	a.window.Render()
	type looked struct {
		review practice.Review
		err    error
	}
	c, attempt, book := t.c, t.attempt, scenes.ReviewBook(a.session.Book(), t.scenario, a.session.Settings().Meter)
	frame.Run(a.window.Runner(), jobReview+t.scenario.ID, func(context.Context) looked {
		r, err := c.Review(attempt, book)
		return looked{r, err}
	}, func(l looked) {
		if l.err != nil {
			t.attempt.Conclusion = nil
			a.window.Say("Looking back failed. " + view.Sentence(l.err.Error()))
			return
		}
		t.review = &l.review
		if a.window.Here().ID == t.scenario.ID {
			a.window.Render()
			a.window.ScrollTop()
		}
	})
}

// again begins a scenario anew.
func (a *Area) again(s *content.Scenario) {
	delete(a.practice.tries, s.ID)
	a.window.Return("")
	a.window.ScrollTop()
}

// signalOf is the signal word above how an attempt ended.
func signalOf(right bool) faulttree.Signal {
	if right {
		return faulttree.Notice
	}
	return faulttree.Caution
}
