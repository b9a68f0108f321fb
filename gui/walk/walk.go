package walk

import (
	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
	"faultwright/gui/session"
)

// walkPage shows a visit: an earlier answer, the present step, or the finding.
func (a *Area) walkPage(at place.Location, v *session.Visit) frame.Page {
	book, w := a.session.Book(), v.Walk()
	trail := w.Trail()
	if at.Step < len(trail) {
		return a.earlierPage(at, v, trail[at.Step])
	}
	if f, ok := view.FindingOf(book, w); ok {
		return a.findingPage(v, f)
	}
	s, _ := view.StepIn(book, w, len(trail))
	p := frame.Page{Text: s.Text(), Side: append(a.trail(v), parts.Links(a.window, "Cards", s.Cards)...), Body: readOnlyNotice(v)}
	for _, doubt := range v.Doubts(book) {
		p.Body = append(p.Body, look.NewCallout(faulttree.Caution, look.NewText(doubt)))
	}
	switch w.Step().Kind {
	case faulttree.KindMeasure:
		a.measure(&p, v, s)
	case faulttree.KindObserve:
		a.observe(&p, v, s)
	default:
		a.act(&p, v, s)
	}
	return p
}

// readOnlyNotice says why a visit can only be looked at; nothing if it can be
// answered.
func readOnlyNotice(v *session.Visit) []fyne.CanvasObject {
	if !v.ReadOnly() {
		return nil
	}
	return []fyne.CanvasObject{look.NewCallout(faulttree.Notice, look.NewText(v.Reason()))}
}

func (a *Area) answer(v *session.Visit, given faulttree.Answer) {
	a.goOn(a.session.Answer(v.ID(), given))
}

// measure is a step that takes readings.
func (a *Area) measure(p *frame.Page, v *session.Visit, s view.Step) {
	at, step := v.Present(), v.Walk().Step()
	take := look.NewPrimary("Take this reading", nil)
	take.Hint = "↵"
	if len(step.Measure) > 1 {
		take.SetText("Take these readings")
	}
	r := a.readings(at, step, v.Walk().Meter(), nil)
	r.OnChange = func(j view.Judged) { parts.Enable(take, j.Ready) }
	r.OnEnter = func() {
		if j := r.Judge(); j.Ready {
			a.answer(v, j.Answer)
		}
	}
	take.OnTapped = r.OnEnter
	parts.Enable(take, r.Judge().Ready)

	cannot := "I cannot measure this"
	if a.window.Narrow() {
		cannot = "Cannot"
	}
	buttons := look.Row(12, take, look.NewButton(cannot, func() { a.window.Go(place.Cannot(at.ID, at.Step)) }))
	if view.AllReadingsOpen(a.session.Book(), v.Walk()) {
		buttons.Add(look.NewButton("All readings on one page", func() { a.window.Go(place.Readings(at.ID)) }))
	}
	buttons.Add(look.NewButton("Back", a.stepBack(at)))

	if s.Caution.Signal > 0 {
		p.Body = append(p.Body, parts.CautionLine(s.Caution))
	}
	p.Body = append(p.Body, parts.Head(a.window, s.Above, s.Question))
	prose := parts.Blocks(a.window, s.Prose)
	plug := func(f figure.Face) { a.set(func(s *session.Settings) { s.Face = f }) }
	pictures := parts.ProbePictures(a.session.Book().Forest.Trees[step.Tree], s.Asked, a.session.Settings().Face, plug)
	switch {
	case a.window.Narrow() && len(s.Asked) == 1:
		p.Body = append(p.Body, r.Object, buttons, r.Ruler, parts.Chips(s.Asked[0].Chips), prose, pictures)
	case a.window.Narrow():
		p.Body = append(p.Body, r.Object, buttons, r.Ruler, prose, pictures)
	case len(s.Asked) == 1:
		how := look.Stack(look.GapBlock, parts.Chips(s.Asked[0].Chips), prose)
		p.Body = append(p.Body, look.Beside(300, 290, 26, pictures, how), r.Object, r.Ruler, buttons)
	default:
		p.Body = append(p.Body, prose, r.Object, r.Ruler, buttons, pictures)
	}
	p.Focus = r.First()
}

// stepBack shows the answer before the step at; from the first step it goes
// to where walks begin.
func (a *Area) stepBack(at place.Location) func() {
	return func() {
		if at.Step > 0 {
			a.window.Go(place.Walk(at.ID, at.Step-1))
			return
		}
		a.window.Go(place.Opening())
	}
}

// observe is a step answered by a choice.
func (a *Area) observe(p *frame.Page, v *session.Visit, s view.Step) {
	if s.Caution.Signal > 0 {
		p.Body = append(p.Body, parts.CautionLine(s.Caution))
	}
	grid := look.Grid(300, 14, 2)
	for _, c := range s.Choices {
		grid.Add(look.NewChoice(c.Digit, c.Text, "", func() { a.answer(v, faulttree.Answer{Choice: c.ID}) }))
	}
	p.Body = append(p.Body, parts.Head(a.window, s.Above, s.Question))
	if len(s.Prose) > 0 {
		p.Body = append(p.Body, parts.Blocks(a.window, s.Prose))
	}
	p.Body = append(p.Body, grid, look.Row(12, look.NewButton("Back", a.stepBack(v.Present()))))
}

// act is a step that asks for something to be done; a STOP fills the page
// with what to do, before anything is explained.
func (a *Area) act(p *frame.Page, v *session.Visit, s view.Step) {
	give := func() { a.answer(v, faulttree.Answer{Done: true}) }
	done := look.NewPrimary("Done", give)
	// Enter has just taken the reading before. It must not also confirm an act,
	// so an act is confirmed with the digit 1.
	done.Hint, p.Keys = "1", map[rune]func(){'1': give}
	var caution []fyne.CanvasObject
	if s.Caution.Signal > 0 {
		caution = append(caution, parts.CautionLine(s.Caution))
	}
	prose := parts.Blocks(a.window, s.Prose)
	if s.Stop {
		done.SetText("This is done")
		p.Body = append(p.Body, look.NewBanner(faulttree.Danger, view.Sentence(s.Question), prose))
		p.Body = append(append(p.Body, caution...), look.NewSoft(s.Above))
	} else {
		p.Body = append(append(p.Body, caution...), parts.Head(a.window, s.Above, s.Question), prose)
	}
	p.Body = append(p.Body, look.Row(12, done, look.NewButton("Back", a.stepBack(v.Present()))))
}
