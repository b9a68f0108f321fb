package walk

import (
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// earlierPage shows an answer given before, and what a different one would do
// to the answers after it, before anything is done.
func (a *Area) earlierPage(at place.Location, v *session.Visit, e faulttree.Entry) frame.Page {
	book, w := a.session.Book(), v.Walk()
	s := book.Forest.Step(e.Step)
	step, _ := view.StepIn(book, w, at.Step)
	p := frame.Page{Text: step.Text(), Side: append(a.trail(v), parts.Links(a.window, "Cards", step.Cards)...)}
	goOn := look.NewPrimary("Leave it and go on", func() { a.window.Go(v.Present()) })
	effect := look.NewText("")
	change := look.NewButton("Change this answer", nil)
	change.Hide()
	try := func(other faulttree.Answer) {
		c, err := view.ChangeOf(book, w, at.Step, other)
		switch {
		case err != nil:
			effect.SetText(view.Sentence(err.Error()))
			change.Hide()
		case c.Same:
			effect.SetText("This is the answer on record.")
			change.Hide()
		default:
			effect.SetText(c.Sentence())
			change.OnTapped = func() { a.goOn(a.session.Change(v.ID(), at.Step, other)) }
			change.Show()
		}
		a.window.Relayout()
	}
	p.Body = append(p.Body, parts.Head(a.window, step.Above, step.Question))
	switch s.Kind {
	case faulttree.KindMeasure:
		r := a.readings(at, s, w.Meter(), recorded(e.Answer))
		r.OnChange = func(j view.Judged) {
			if j.Ready {
				try(j.Answer)
			} else {
				effect.SetText("")
				change.Hide()
			}
		}
		r.OnEnter = func() {
			if change.Visible() {
				change.OnTapped()
			} else {
				goOn.OnTapped()
			}
		}
		p.Body = append(p.Body, r.Object, r.Ruler)
		p.Focus = r.First()
		if j := r.Judge(); j.Ready {
			try(j.Answer)
		}
	case faulttree.KindObserve:
		grid := look.Grid(300, 14, 2)
		for _, c := range step.Choices {
			note := ""
			if c.ID == e.Answer.Choice {
				note = "the answer on record"
			}
			grid.Add(look.NewChoice(c.Digit, c.Text, note, func() { try(faulttree.Answer{Choice: c.ID}); look.Reveal(change) }))
		}
		p.Body = append(p.Body, grid)
	default:
		p.Body = append(p.Body, parts.Blocks(a.window, step.Prose), look.NewSoft("This was done."))
		p.Focus = goOn
	}
	if v.ReadOnly() {
		change.Disable()
	}
	p.Body = append(p.Body, effect, look.Row(12, goOn, change, look.NewButton("Back", a.stepBack(at))))
	return p
}

// recorded is what was typed for the readings of an answer; nothing for one
// that could not be taken.
func recorded(a faulttree.Answer) []string {
	var out []string
	for _, r := range a.Readings {
		text := r.Text
		if r.Quality == faulttree.NotPossible {
			text = ""
		}
		out = append(out, text)
	}
	return out
}
