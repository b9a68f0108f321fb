package walk

import (
	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// cannotPage asks why a reading cannot be taken, or says what to do where it is
// known why.
func (a *Area) cannotPage(at place.Location, v *session.Visit) frame.Page {
	q := a.ask(at, v)
	if q.step == nil || q.step.Kind != faulttree.KindMeasure || at.Step > len(v.Walk().Trail()) {
		return a.window.Missing("This reading is not asked for any more.")
	}
	if o, ok := view.ObstacleOf(q.step, at.Kind); ok {
		q.obstacle(o)
	} else {
		q.reasons()
	}
	return q.page
}

// reasons offers the usual ones, and one in the reader's own words.
func (q *asking) reasons() {
	q.buttons("Give this reason")
	q.add(parts.Head(q.window, q.says.Question, "Why can it not be measured?"),
		look.NewText("A reading that is not taken clears nothing; the walk goes on to the worse side. A display of OL is a reading: type OL."))
	own := q.entry(q.at, reasonDraft, "Another reason, in your own words", "")
	m := q.marks("Choose by a digit or a press, or write another reason; the button gives it.")
	for i, reason := range view.Reasons() {
		m.offer(i+1, reason, "", reason, view.CannotMeasure(q.step, reason))
	}
	keep := own.OnChanged
	own.OnChanged = func(text string) {
		keep(text)
		m.mark("")
		if text != "" {
			q.propose(view.CannotMeasure(q.step, text), true, "", "Your own reason.")
		}
	}
	own.OnSubmitted = func(string) { q.enter() }
	q.add(m.grid, own)
	m.start("")
	if id, _ := q.session.Draft(q.at, markDraft); id == "" && own.Text != "" {
		q.propose(view.CannotMeasure(q.step, own.Text), true, "", "Your own reason.")
	}
	q.foot(q.toReading, nil, nil, nil)
}

// toReading goes back to the reading that is not given up yet.
func (q *asking) toReading() { q.window.Go(place.Walk(q.at.ID, q.at.Step)) }

// obstacle says what to do before anything is recorded.
func (q *asking) obstacle(o view.Obstacle) {
	q.add(look.NewBanner(o.Signal, o.Title, look.Numbered(o.Do...)), parts.Head(q.window, q.says.Above, q.says.Question))
	probes := parts.NewProbes(q.says, q.session.Face(), nil)
	if o.ID != view.Damage {
		q.add(look.Grid(230, look.GapBlock, 3, probes.Pictures...))
	}
	if o.Reason == "" {
		again := look.NewPrimary("Back to the reading", q.toReading)
		buttons := []fyne.CanvasObject{again}
		if o.ID == view.Unseen {
			buttons = append(buttons, look.NewButton("I cannot measure this", func() { q.window.Go(place.Cannot(q.at.ID, q.at.Step)) }))
		}
		q.page.Foot = footOf(q.window.Narrow(), nil, nil, nil, buttons, nil)
		return
	}
	q.buttons("Record it and go on")
	if o.Ends {
		q.buttons("Record it and make the sheet")
		q.take.OnTapped = func() {
			out, err := q.record()
			if err == nil {
				out.To = place.Sheet(q.at.ID)
			}
			q.goOn(out, err)
		}
	}
	q.leave = nil // the way back to the reading stands in its place
	m := q.marks("Mark it with 1 or a press; the button records it.")
	m.offer(1, o.Title, "Recorded as not measured. That clears nothing.", o.ID, view.CannotMeasure(q.step, o.Reason))
	q.add(m.grid)
	m.start("")
	q.page.Foot = footOf(q.window.Narrow(), []fyne.CanvasObject{q.lead, q.rest}, nil, nil,
		append(shownButtons(q.take), look.NewButton("Back to the reading", q.toReading)), nil)
}

// entry is entry n of a place, with what was typed there before, or else what
// is known.
func (a *Area) entry(at place.Location, n int, hint, known string) *look.Field {
	return parts.Entry(a.window, a.session, at, n, hint, known)
}
