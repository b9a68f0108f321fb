package class

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"fyne.io/fyne/v2"

	"faultwright/content/class"
	"faultwright/content/class/paper"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

func (a *Area) toAttempt(l *class.Learner, task int) func() {
	if l.Tries[task] == nil {
		return nil
	}
	return func() { a.window.Go(place.Attempt(l.File, task)) }
}

// attempt is the attempt of a place; ok is false where it is not there any more.
func (a *Area) attempt(at place.Location) (l *class.Learner, x *class.Checked, ok bool) {
	if a.opened.all == nil {
		return nil, nil, false
	}
	for _, l := range a.opened.all.Learners {
		if l.File == at.ID && at.Step < len(l.Tries) && l.Tries[at.Step] != nil {
			return l, l.Tries[at.Step], true
		}
	}
	return nil, nil, false
}

// arriveAtAttempt works out what the readings of an attempt tell, act by act.
func (a *Area) arriveAtAttempt(at place.Location) (said string, err error) {
	if said, err = a.arrive(at); err != nil {
		return said, err
	}
	_, x, ok := a.attempt(at)
	if !ok {
		return said, errors.New("This attempt is not open any more. Open the folder again.")
	}
	a.opened.step = 0
	by, c := a.opened.by, a.opened.all
	if _, told := a.opened.beliefs[x]; told || by == nil || x.Edited != "" {
		return said, nil
	}
	a.opened.telling = x
	frame.Try(a.window.Runner(), jobTell, func(ctx context.Context) ([]string, error) {
		return by.Tell(ctx, c.Scenarios[at.Step], x)
	}, func(text []string, err error) {
		if a.opened.all != c {
			return
		}
		a.opened.telling = nil
		a.opened.beliefs[x] = text
		if a.window.Here().Page != place.AttemptPage {
			return
		}
		if err != nil {
			a.window.Say("What the readings tell is not worked out. " + view.Capital(view.Sentence(err.Error())))
		}
		a.window.Render()
	})
	return said, nil
}

// attemptPage is one attempt: the marks with their reasons, and act by act what was
// done, with what the readings until then tell.
func (a *Area) attemptPage(at place.Location) frame.Page {
	l, x, ok := a.attempt(at)
	if !ok {
		return a.window.Missing("this attempt")
	}
	c := a.opened.all
	body := []fyne.CanvasObject{parts.Head(a.window, c.Called(l, a.opened.hidden)+" · "+c.Assignment.Title, c.Scenarios[at.Step].Title)}
	steps := class.Replay(a.session.Book(), x, a.opened.beliefs[x])
	body = append(body, a.state(x), a.replay(x, steps))
	row := look.Row(12, look.NewPrimary("The class", func() { a.window.Go(place.HandedIn()) }))
	for _, n := range []struct {
		text string
		step int
	}{{"The one before", -1}, {"The next one", 1}} {
		if to, ok := a.beside(l, at.Step, n.step); ok {
			row.Add(look.NewButton(n.text, func() { a.window.Replace(to) }))
		}
	}
	row.Add(look.NewButton("Copy page", a.window.CopyPage))
	row.Add(look.NewButton("Back", a.window.Back))
	page := frame.Page{Body: append(body, row)}
	if len(steps) > 0 {
		page.Foot = a.now(steps)
		page.Arrows = map[fyne.KeyName]func(){
			fyne.KeyLeft: func() { a.move(-1, len(steps)) }, fyne.KeyRight: func() { a.move(1, len(steps)) },
		}
	}
	return page
}

// move goes on, or back, in an attempt that is gone through again.
func (a *Area) move(by, of int) {
	a.opened.step = max(0, min(a.opened.step+by, of-1))
	a.window.Render()
}

// now is the step of an attempt that is looked at, with what the readings until then
// tell. It stays in view.
func (a *Area) now(steps []class.Step) fyne.CanvasObject {
	at := min(a.opened.step, len(steps)-1)
	back := look.NewButton("← The step before", func() { a.move(-1, len(steps)) })
	on := look.NewButton("The next step →", func() { a.move(1, len(steps)) })
	parts.Enable(back, at > 0)
	parts.Enable(on, at < len(steps)-1)
	return look.Stack(6, look.NewCaption(fmt.Sprintf("Step %d of %d", at+1, len(steps))), stepLine(steps[at], ""), look.Row(12, back, on))
}

// beside is the attempt before or after one, learner by learner.
func (a *Area) beside(l *class.Learner, task, step int) (place.Location, bool) {
	var all []place.Location
	here := -1
	for _, one := range a.opened.all.Ordered(a.opened.hidden) {
		for k, x := range one.Tries {
			if x == nil {
				continue
			}
			if one == l && k == task {
				here = len(all)
			}
			all = append(all, place.Attempt(one.File, k))
		}
	}
	if to := here + step; here >= 0 && to >= 0 && to < len(all) {
		return all[to], true
	}
	return place.Location{}, false
}

// state is what came of an attempt: what was edited or copied, else the marks.
func (a *Area) state(x *class.Checked) fyne.CanvasObject {
	out := look.Stack(12)
	if x.Edited != "" {
		title := "It was edited"
		if x.Elsewhere {
			title = "It does not follow"
		}
		out.Add(look.NewBanner(faulttree.Warning, title, look.NewText(x.Edited)))
	}
	if len(x.Copied) > 0 && !a.opened.hidden {
		out.Add(look.NewCallout(faulttree.Notice, look.Numbered(x.Copied...)))
	}
	if x.Unmarked != "" {
		out.Add(look.NewText(x.Unmarked))
	}
	m := x.Marks
	if m == nil {
		return out
	}
	shape, word := x.State()
	if total := x.Total(); total != "" {
		word += ", " + total + " of 100"
	}
	out.Add(look.NewTitle(shape + "  " + word))
	if len(m.Caps) > 0 {
		list := look.Stack(8)
		for _, cap := range m.Caps {
			list.Add(look.NewText(cap.Text))
		}
		out.Add(look.NewBanner(faulttree.Danger, "Unsafe acts", list))
	}
	parts := look.Grid(420, 24, 2)
	for _, p := range m.Parts {
		parts.Add(look.Stack(2, look.NewStrong(fmt.Sprintf("%s: %d of %d", p.Title, p.Points, p.Of)), look.NewSoft(p.Reason)))
	}
	out.Add(parts)
	return out
}

// replay is what was done, act by act; that which is looked at is marked.
func (a *Area) replay(x *class.Checked, steps []class.Step) fyne.CanvasObject {
	out := look.Stack(10, look.NewCaption("Act by act, with what the readings until then tell"))
	if a.opened.telling == x {
		out.Add(look.NewSoft("What the readings tell is being worked out …"))
	}
	for i, s := range steps {
		mark := "     "
		if i == a.opened.step {
			mark = "▶  "
		}
		out.Add(stepLine(s, mark))
	}
	return out
}

// stepLine is a step in a line, and under it what the readings until then tell.
func stepLine(s class.Step, mark string) fyne.CanvasObject {
	number := ""
	if s.Number > 0 {
		number = strconv.Itoa(s.Number) + ".  "
	}
	line := look.Stack(2, look.NewProse(look.Run{Text: mark + number + paper.Clock(s.At) + "  " + s.What + "  "}, look.Run{Text: s.Came, Style: fyne.TextStyle{Bold: true}}))
	if s.Belief != "" {
		line.Add(look.Pad(0, 0, 0, 34, look.NewSoft(s.Belief)))
	}
	return line
}
