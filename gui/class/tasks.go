package class

import (
	"context"
	"errors"
	"fmt"
	"io"
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/view"
	"faultwright/content/view/scenes"
	"faultwright/faulttree"
	"faultwright/faulttree/practice"
	attempts "faultwright/faulttree/practice/store"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// taking is an assignment that a learner has opened.
type taking struct {
	assignment *class.Assignment
	scenarios  []*content.Scenario
	name       string          // as typed
	learner    string          // the name that is worked under; "" until it was taken
	mine       map[string]bool // attempts on record that the learner says are his, by id
	preparing  int             // number of the task whose vehicle is being made; 0 for none
}

// takePart goes on with the assignment that is open, or asks for one.
func (a *Area) takePart() {
	if a.taking != nil {
		a.window.Go(place.Tasks())
		return
	}
	a.files.AskOpen(".zip", parts.Chosen(a.window, "The assignment was not opened.", func(r fyne.URIReadCloser) { a.takeAssignment(r) }))
}

const (
	jobAssignment = "assignment"
	jobVehicle    = "vehicle of a task"
)

// takeAssignment reads an assignment away from the window's goroutine.
func (a *Area) takeAssignment(r io.ReadCloser) {
	book := a.session.Book()
	frame.Try(a.window.Runner(), jobAssignment, func(ctx context.Context) (*taking, error) {
		defer r.Close() // it was only read
		made, err := class.ReadAssignment(r)
		if err != nil {
			return nil, err
		}
		scenarios, err := made.Scenarios(ctx, book)
		return &taking{assignment: made, scenarios: scenarios, mine: map[string]bool{}}, err
	}, func(t *taking, err error) {
		if err == nil && book != a.session.Book() {
			err = errors.New("the handbook was read anew meanwhile; open the file again")
		}
		if err != nil {
			a.window.Say("This assignment cannot be taken part in. " + view.Capital(view.Sentence(err.Error())))
			return
		}
		a.session.DropTasks()
		a.taking, a.book = t, book
		a.session.TakePart(t.assignment, t.scenarios)
		a.window.Go(place.Tasks())
	})
}

// tasksPage is an assignment before a learner: first his name, then the tasks.
func (a *Area) tasksPage(place.Location) frame.Page {
	t := a.taking
	if t == nil {
		return frame.Page{Body: []fyne.CanvasObject{
			parts.Head(a.window, "Practice · a class", "No assignment is open"),
			look.NewText("Open the file that your instructor gave you."),
			look.Row(12, look.NewPrimary("Open an assignment", a.takePart), look.NewButton("Back", a.window.Back)),
		}}
	}
	body := []fyne.CanvasObject{parts.Head(a.window, "Practice · a class", t.assignment.Title)}
	if t.assignment.Note != "" {
		body = append(body, look.NewText(t.assignment.Note))
	}
	body = append(body, look.NewText(paper.Terms(t.assignment)))
	if t.learner == "" {
		return a.namePage(body)
	}
	grid := look.Grid(340, 14, 2)
	all, err := a.session.AttemptsOf(t.assignment, t.learner)
	if err != nil {
		body = append(body, look.NewCallout(faulttree.Notice, look.NewText(view.Capital(view.Sentence(err.Error())))))
	}
	for i, s := range t.scenarios {
		digit := 0
		if i < 9 {
			digit = i + 1
		}
		grid.Add(look.NewChoice(digit, s.Title, t.howFar(all, i), func() { a.toTask(i) }))
	}
	body = append(body, look.NewStrong("You work as "+t.learner+"."), grid, a.handing(all))
	row := look.Row(12, look.NewPrimary("Save the file to hand in", func() { a.handIn(all) }),
		look.NewButton("Somebody else works now", a.nobody), look.NewButton("Close the assignment", a.closeAssignment), look.NewButton("Back", a.window.Back))
	return frame.Page{Body: append(body, row)}
}

// namePage asks for the learner's name. No attempt is listed before that: others
// practise on this computer, too.
func (a *Area) namePage(body []fyne.CanvasObject) frame.Page {
	t := a.taking
	name := a.window.Field("Your name, as your instructor knows it")
	name.SetText(t.name)
	begin := look.NewPrimary("Begin", nil)
	name.OnChanged = func(text string) {
		t.name = text
		parts.Enable(begin, strings.TrimSpace(text) != "")
	}
	begin.OnTapped = func() {
		if t.learner = strings.TrimSpace(t.name); t.learner != "" {
			a.window.Render()
			a.window.ScrollTop()
		}
	}
	name.OnSubmitted = func(string) { begin.OnTapped() }
	parts.Enable(begin, strings.TrimSpace(t.name) != "")
	body = append(body, look.MaxWidth(480, false, look.Labelled("Name", name)),
		look.NewSoft("The name is all that the file says of you. It also decides which vehicle is yours: type it the same each time."),
		look.Row(12, begin, look.NewButton("Close the assignment", a.closeAssignment), look.NewButton("Back", a.window.Back)))
	return frame.Page{Body: body, Focus: name}
}

// howFar says how far the learner is with a task, and nothing of its answer.
func (t *taking) howFar(all []attempts.Summary, task int) string {
	if t.preparing == task+1 {
		return "The vehicle is being made ready …"
	}
	begun, ended := 0, 0
	for _, x := range all {
		if x.Header.Case != t.scenarios[task].ID || !t.may(x) {
			continue
		}
		if x.Ended {
			ended++
		} else {
			begun++
		}
	}
	switch {
	case ended > 0:
		return "Concluded. The first conclusion counts."
	case begun > 0:
		return "Under way."
	}
	return "Not begun. " + view.Teaser(t.scenarios[task])
}

// may reports whether an attempt counts as this learner's: where it was begun under his
// name, or each has a vehicle of his own, it is, else where he says so.
func (t *taking) may(x attempts.Summary) bool { return t.known(x) || t.mine[x.ID] }

// known reports whether one of the attempts that may be this learner's can be nobody
// else's.
func (t *taking) known(x attempts.Summary) bool {
	task, ok := t.assignment.Task(x.Header.Case)
	return ok && (t.assignment.Tasks[task].Own || x.Header.For != "")
}

// handing lets a learner say which attempts on record are his, where the vehicle does
// not tell.
func (a *Area) handing(all []attempts.Summary) fyne.CanvasObject {
	t := a.taking
	list := look.Stack(2)
	for _, x := range all {
		task, ok := t.assignment.Task(x.Header.Case)
		if !ok || t.known(x) {
			continue
		}
		ended := "not concluded"
		if x.Ended {
			ended = "concluded"
		}
		text := fmt.Sprintf("%s · %s · %s · %s", t.scenarios[task].Title, x.Header.Started.Local().Format("2006-01-02 15:04"), view.Count(x.Readings, "reading"), ended)
		list.Add(look.NewCheck(text, t.mine[x.ID], func(on bool) {
			t.mine[x.ID] = on
			a.window.Render()
		}))
	}
	if len(list.Objects) == 0 {
		return look.NewSoft("What you do is on record on this computer. Save the file to hand in when you have concluded.")
	}
	return look.Stack(8, look.NewCaption("Which of these are yours?"), look.NewSoft("Everybody has the same vehicles, so this computer cannot tell whose these are."), list)
}

// toTask makes the learner's vehicle ready and goes to it.
func (a *Area) toTask(task int) {
	t := a.taking
	t.preparing = task + 1
	a.window.Render()
	reasoning, m, now := a.session.Reasoning(), a.session.Settings().Meter, a.session.Now()
	frame.Try(a.window.Runner(), jobVehicle, func(ctx context.Context) (practice.Header, error) {
		return t.assignment.Begin(ctx, reasoning, task, t.learner, m, now)
	}, func(h practice.Header, err error) {
		t.preparing = 0
		if a.taking != t || a.window.Here().Page != place.TasksPage {
			return // the reader went elsewhere
		}
		if err != nil {
			a.window.Say("This vehicle cannot be made ready. " + view.Capital(view.Sentence(err.Error())))
			a.window.Render()
			return
		}
		s := scenes.VariantOf(t.scenarios[task], h.Seed)
		a.session.Assign(session.Task{Assignment: t.assignment, Learner: t.learner, Scenario: s, Header: h, Mine: t.mine})
		a.window.Go(place.Task(s.ID))
	})
}

// handIn saves the file to hand in.
func (a *Area) handIn(all []attempts.Summary) {
	t := a.taking
	var ids []string
	for _, x := range all {
		if t.may(x) {
			ids = append(ids, x.ID)
		}
	}
	raw, missing, err := a.session.HandIn(t.assignment, t.learner, ids)
	if err != nil {
		a.window.Say("There is nothing to hand in yet. " + view.Capital(view.Sentence(err.Error())))
		return
	}
	what := "Your file"
	if n := len(missing); n > 0 {
		what = fmt.Sprintf("Your file, with %s of %d,", view.Count(len(t.scenarios)-n, "conclusion"), len(t.scenarios))
	}
	a.save(class.FileName("attempt", t.learner), ".zip", what, bytesOf(raw))
}

// nobody lets somebody else work: tasks and attempts of the last one are not shown.
func (a *Area) nobody() {
	a.session.DropTasks()
	a.taking.name, a.taking.learner, a.taking.mine = "", "", map[string]bool{}
	a.window.Say("") // what was said was for the last one
	a.window.ScrollTop()
}

func (a *Area) closeAssignment() {
	a.session.DropTasks()
	a.session.TakePart(nil, nil)
	a.taking = nil
	a.window.Go(place.Class())
}
