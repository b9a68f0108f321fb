package practice

import (
	"maps"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content"
	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/faulttree/practice"
	attempts "faultwright/faulttree/practice/store"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// scenarioAt is the scenario of a place, and the task of an assignment that it is;
// nil for none.
func (a *Area) scenarioAt(at place.Location) (*content.Scenario, *session.Task) {
	if at.Kind == "" {
		return a.session.Scenario(at.ID), nil
	}
	task, ok := a.session.Task(at.ID)
	if !ok {
		return nil, nil
	}
	return task.Scenario, &task
}

// taskPage is a task before its vehicle is stood before: level and role are those of
// the assignment. Of attempts made before only what is not concluded is offered, so
// that nobody comes upon the answer of somebody else. To go on comes first: what was
// begun is not begun anew by mistake.
func (a *Area) taskPage(t *trying) frame.Page {
	anew := func() { a.begin(t, t.task.Header.Level) }
	row := look.Row(12, look.NewPrimary("Go to the vehicle", anew))
	if begun, err := a.madeBefore(t); err == nil && len(begun) > 0 {
		row = look.Row(12, look.NewPrimary("Go on where you were", func() { a.goOn(t, begun[0].ID) }), look.NewButton("Begin anew", anew))
	}
	row.Add(a.others(t))
	row.Add(look.NewButton("Back", a.window.Back))
	body := []fyne.CanvasObject{
		parts.Head(a.window, t.task.Assignment.Title+" · "+t.task.Learner, t.scenario.Title), a.story(t), look.NewText(paper.Terms(t.task.Assignment)), row,
	}
	if before := a.before(t); before != nil {
		body = append(body, before)
	}
	return frame.Page{Body: body}
}

// goesOn reports whether an attempt on record is one that may be gone on with here: at
// the same variant, and at a task only what is the learner's own and is not concluded. One
// that is concluded may still be read after its repair where no look back can be come upon.
func (t *trying) goesOn(x attempts.Summary) bool {
	if t.task == nil {
		return x.Header.Seed == 0 && x.Header.For == ""
	}
	h := t.task.Header
	known := x.Header.For != "" && x.Header.For == h.For
	return (!x.Ended || known && t.held()) && x.Header.SameTask(h) && (known || t.task.Own() || t.task.Mine[x.ID])
}

// keyOf tells the attempt at a task from one at the same scenario that is none.
func keyOf(at place.Location) string { return at.Kind + "/" + at.ID }

func (t *trying) key() string { return keyOf(t.at()) }

// isOf reports whether it is an attempt at a task, of the same learner.
func (t *trying) isOf(task *session.Task) bool {
	return t.task != nil && task != nil && t.task.Assignment == task.Assignment && t.task.Learner == task.Learner && t.task.Header.Seed == task.Header.Seed
}

// inHand reports whether an attempt, if it is at a task, is at one that its learner has in
// hand. What somebody else worked at is neither shown nor closes anything.
func (a *Area) inHand(t *trying) bool {
	if t.task == nil {
		return true
	}
	task, ok := a.session.Task(t.scenario.ID)
	return ok && t.isOf(&task)
}

// assignedPage stands in the place of a scenario that is one of the open assignment:
// who tried it out here would know the answer there.
func (a *Area) assignedPage(s *content.Scenario, of *class.Assignment) frame.Page {
	return frame.Page{Body: []fyne.CanvasObject{
		parts.Head(a.window, "Practice · "+s.Rig.Before(), s.Title),
		look.NewText("This is a vehicle of the assignment “" + of.Title + "”, which is open. It is worked at there."),
		look.Row(12, look.NewPrimary("The assignment", func() { a.window.Go(place.Tasks()) }),
			look.NewButton("Other scenarios", func() { a.window.Go(place.Scenarios()) }), look.NewButton("Back", a.window.Back)),
	}}
}

// others leads to the other vehicles: of the assignment, or all.
func (a *Area) others(t *trying) *look.Button {
	if t.task != nil {
		return look.NewButton("The assignment", func() { a.window.Go(place.Tasks()) })
	}
	return look.NewButton("Other scenarios", func() { a.window.Go(place.Scenarios()) })
}

// at is the place of an attempt.
func (t *trying) at() place.Location {
	if t.task != nil {
		return place.Task(t.scenario.ID)
	}
	return place.Scenario(t.scenario.ID)
}

// held reports whether the look back waits for the instructor.
func (t *trying) held() bool { return t.task != nil && t.task.Assignment.Held }

// hints reports whether hints can be had.
func (t *trying) hints() bool {
	return t.attempt().Level == practice.Guided || t.task != nil && t.task.Assignment.Open.Hints
}

// walk reports whether the walk of the handbook can be taken beside it.
func (t *trying) walk() bool {
	if t.task != nil {
		return t.task.Assignment.Open.Tree
	}
	return t.attempt().Level != practice.Free
}

// Closed reports whether a place may not be gone to now: the handbook, its walks and
// what fits are closed while a task is worked on whose assignment says so. Here is
// where to stay.
func (a *Area) Closed(to place.Location) (here place.Location, closed bool) {
	a.keepUp()
	for _, key := range slices.Sorted(maps.Keys(a.practice.tries)) {
		if t := a.practice.tries[key]; t.closes(to.Page) && a.inHand(t) {
			return t.at(), true
		}
	}
	return to, false
}

// closes reports whether an attempt at a task closes a page while it is worked on.
func (t *trying) closes(p place.Page) bool {
	if t.task == nil || t.phase != working && t.phase != concluding || t.attempt().Repaired > 0 {
		return false
	}
	open := t.task.Assignment.Open
	switch p {
	case place.DocumentPage, place.HandbookPage, place.SearchPage, place.StepPage:
		return !open.Handbook
	case place.TreePage, place.FlowPage, place.SuspectsPage, place.CircuitPage:
		return !open.Tree
	case place.PrintPage:
		return !open.Handbook || !open.Tree
	}
	return false
}
