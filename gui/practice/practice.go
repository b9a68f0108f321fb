// Package practice is the pages on which finding a hidden fault is practised.
package practice

import (
	"context"
	"errors"
	"fmt"
	"io"
	"reflect"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/mark"
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
	tries map[string]*trying // by key
	now   string             // the key of the one that was shown last
	said  string             // what is to be told on the next page; "" for nothing

	picture  bool            // the vehicle is shown as a picture, not as a diagram
	beliefs  *mark.Beliefs   // by which attempts with a meter are judged
	meter    faulttree.Meter // which
	deleting string          // the attempt that is asked to be deleted; "" for none
}

// phase is how far an attempt is.
type phase uint8

const (
	beginning  phase = iota // the story is told, and the level chosen
	working                 // before the vehicle; also the test after repair
	concluding              // what the readings tell is being said
	concluded               // it was said; the repair and the look back are to come
	over                    // looking back
)

// trying is one attempt.
type trying struct {
	scenario   *content.Scenario
	task       *session.Task // of an assignment; nil for none
	c          practice.Case
	scene      *scene.Scene       // knows the test points
	rec        *practice.Recorder // nil until it was begun
	file       io.Closer          // of its record
	v          *practice.Learner  // of rec
	phase      phase
	last       practice.Act // the reading on the display
	red, black string
	blackNext  bool                // the next point that is tapped takes the black probe
	story      bool                // it is shown again
	draft      practice.Conclusion // what is concluded so far
	unkept     bool                // it could not be put on record
	focus      string              // what of the page has the keyboard
	help       help
	bench      *bench           // the one that was shown last
	marks      *mark.Marks      // nil while they are worked out, and where the handbook has no rubric
	compared   *scenes.Compared // the readings beside the suspects; nil while that is worked out, and where it cannot be
	marking    bool             // both are worked out
	marked     bool             // they were
}

// attempt is what was done so far.
func (t *trying) attempt() practice.Attempt {
	if t.rec == nil {
		return practice.Attempt{Case: t.c.ID}
	}
	return t.rec.Attempt()
}

// left lets go of the record.
func (t *trying) left() {
	if t.file != nil {
		t.file.Close() // all of it is on disk already
	}
	t.file = nil
}

// try is the attempt at a scenario, which waits to be begun if there is none.
// The error is a sentence.
func (a *Area) try(s *content.Scenario, task *session.Task) (*trying, error) {
	a.keepUp()
	t := &trying{scenario: s, task: task, c: scenes.CaseOf(a.session.Book(), s)}
	switch before := a.practice.tries[t.key()]; {
	case before != nil && (task == nil && before.scenario == s || before.isOf(task)):
		return before, nil
	case before != nil:
		before.left() // what was done is on record
	}
	if _, err := t.c.Begin(a.session.Settings().Meter); err != nil {
		return nil, unplayable(err)
	}
	var err error
	if t.scene, err = scene.New(s.Rig, scenes.Book(a.session.Book(), a.session.Settings().Meter)); err != nil {
		return nil, unplayable(err)
	}
	a.practice.tries[t.key()] = t
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
	body = append(body, look.Row(12,
		look.NewButton("A class", func() { a.window.Go(place.Class()) }),
		look.NewButton("Make a scenario", func() { a.window.Go(place.Form("")) }),
		look.NewButton("Open a scenario from a file", a.openScenario)))
	groups := look.Stack(look.GapBlock)
	var grid *fyne.Container
	rig := ""
	for i, s := range view.Scenarios(a.session.Book()) {
		if s.Rig.Before() != rig {
			rig = s.Rig.Before()
			grid = look.Grid(300, 14, 2)
			groups.Add(look.Stack(8, look.NewCaption(rig), grid))
		}
		digit := 0
		if i < 9 {
			digit = i + 1
		}
		grid.Add(look.NewChoice(digit, s.Title, a.howFar(s), func() { a.window.Go(a.wayTo(s)) }))
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
	return frame.Page{Body: append(body, groups, look.Row(12, look.NewButton("Back", a.window.Back)))}
}

// wayTo is where a scenario is worked at: of an assignment that is open, there.
func (a *Area) wayTo(s *content.Scenario) place.Location {
	if a.session.Assigned(s.ID) != nil {
		return place.Tasks()
	}
	return place.Scenario(s.ID)
}

// UnderWay is the scenario that was shown last, if it is being worked on.
func (a *Area) UnderWay() (place.Location, bool) {
	a.keepUp()
	t := a.practice.tries[a.practice.now]
	if t == nil || !a.inHand(t) || t.phase == beginning || t.phase == over {
		return place.Location{}, false
	}
	return t.at(), true
}

// howFar says what has become of a scenario since the window opened, and nothing
// of its answer: others use this computer too.
func (a *Area) howFar(s *content.Scenario) string {
	a.keepUp()
	t := a.practice.tries[keyOf(place.Scenario(s.ID))]
	of := a.session.Assigned(s.ID)
	switch {
	case of != nil:
		return "A vehicle of the assignment “" + of.Title + "”."
	case t == nil || len(t.attempt().Acts) == 0 && !t.attempt().Ended():
		return view.Teaser(s)
	case t.phase == over || t.phase == beginning:
		return "Practised before. It begins anew."
	}
	return "Under way: " + view.Count(len(t.attempt().Readings()), "reading") + " so far."
}

// arrive goes on with the attempt at a scenario, or waits for one to begin. What
// has ended opens with the story, never with its answer.
func (a *Area) arrive(at place.Location) (string, error) {
	s, task := a.scenarioAt(at)
	switch {
	case s == nil && at.Kind != "":
		return "", errors.New("Nobody works at this vehicle now. Take part in its assignment, and type your name.")
	case s == nil:
		return "", errors.New("There is no such scenario.")
	}
	t, err := a.try(s, task)
	if err != nil {
		return "", err
	}
	if t.phase == over {
		t.phase = beginning
	}
	a.practice.now = t.key()
	said := a.practice.said
	a.practice.said = ""
	return said, nil
}

// scenarioPage is one scenario: its story, the work on it, or the look back.
func (a *Area) scenarioPage(at place.Location) frame.Page {
	t := a.practice.tries[keyOf(at)]
	if of := a.session.Assigned(t.scenario.ID); of != nil && t.task == nil {
		return a.assignedPage(t.scenario, of)
	}
	switch t.phase {
	case working:
		return newBench(a, t).page()
	case concluding:
		return newConclude(a, t).page()
	case concluded:
		return a.concludedPage(t)
	case over:
		return a.lookBack(t)
	}
	if t.task != nil {
		return a.taskPage(t)
	}
	return a.beginPage(t)
}

// to brings an attempt on and shows it from the top.
func (a *Area) to(t *trying, p phase) {
	t.phase = p
	if a.window.Said() != "" { // it was of the page before
		a.window.Say("")
	}
	a.window.Render()
	a.window.ScrollTop()
}

// begin begins an attempt at a level.
func (a *Area) begin(t *trying, level practice.Level) {
	h := practice.Header{Case: t.c.ID, Level: level, Role: t.scenario.Role, Rules: practice.Rules}
	if t.task != nil {
		h = t.task.Header
	}
	rec, file, err := a.session.BeginAttempt(t.c, h)
	if err != nil {
		a.window.Say("The attempt could not be begun. " + view.Sentence(err.Error()))
		return
	}
	if t.task != nil && t.task.Mine != nil {
		t.task.Mine[rec.ID()] = true
	}
	a.takeUp(t, rec, file)
}

// goOn goes on with an attempt on record.
func (a *Area) goOn(t *trying, id string) {
	t.left()
	rec, file, err := a.session.ResumeAttempt(t.c, id)
	if err != nil {
		*t = trying{scenario: t.scenario, task: t.task, c: t.c, scene: t.scene}
		a.window.Say("That attempt cannot be gone on with. " + view.Sentence(err.Error()))
		return
	}
	a.takeUp(t, rec, file)
}

// takeUp shows an attempt where it stands.
func (a *Area) takeUp(t *trying, rec *practice.Recorder, file io.Closer) {
	t.left()
	*t = trying{scenario: t.scenario, task: t.task, c: t.c, scene: t.scene, rec: rec, file: file, v: rec.Learner(), draft: rec.Draft().Conclusion}
	switch x := rec.Attempt(); {
	case x.Ended() && x.Repaired == 0:
		a.to(t, concluded)
	default:
		a.to(t, working)
		a.propose(t, false)
		if !reflect.ValueOf(t.draft).IsZero() {
			a.window.Say("What you had begun to conclude is still there: “Conclude” leads to it.")
		}
	}
}

const jobMarks = "marks"

// look looks back on an attempt: what was hidden is shown at once, while what the
// readings tell of it and the marks are worked out.
func (a *Area) look(t *trying) {
	if !t.marked {
		t.marking = true
	}
	a.to(t, over)
	if t.marked {
		return
	}
	type looked struct {
		marks    *mark.Marks
		compared *scenes.Compared
	}
	lib, c, attempt, by := a.session.Book(), t.c, t.attempt(), a.markBook(t)
	frame.Run(a.window.Runner(), jobMarks+t.key(), func(ctx context.Context) (l looked) {
		if x, err := scenes.Compare(ctx, lib, c, attempt, by); err == nil {
			l.compared = &x
		}
		if lib.Rubric == nil {
			return l
		}
		if m, err := mark.Of(ctx, c, attempt, by); err == nil {
			l.marks = &m
		}
		return l
	}, func(l looked) {
		t.marking, t.marked = false, true
		t.marks, t.compared = l.marks, l.compared
		if a.showsLookBack(t) {
			a.window.Render()
		}
	})
}

// showsLookBack reports whether the look back on an attempt is shown now.
func (a *Area) showsLookBack(t *trying) bool {
	return a.window.Here().Same(t.at()) && t.phase == over
}

// markBook is what an attempt is judged by. Attempts with the same meter share the
// vehicles that are drawn.
func (a *Area) markBook(t *trying) mark.Book {
	if p := &a.practice; p.beliefs == nil || p.meter != t.attempt().Meter {
		p.beliefs, p.meter = scenes.NewBeliefs(a.session.Book(), t.attempt().Meter), t.attempt().Meter
	}
	return scenes.MarkBook(a.session.Book(), t.scenario, a.practice.beliefs)
}

// again begins anew. What was done stays on record.
func (a *Area) again(t *trying) {
	t.left()
	delete(a.practice.tries, t.key())
	a.window.Return("")
	a.window.ScrollTop()
}
