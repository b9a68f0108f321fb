package gui

import (
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
)

// walkPane shows the visit named by the location: an earlier answer, the
// present step, or the finding.
func (d *Desk) walkPane(at Location) pane {
	if err := d.resume(at.ID); err != nil {
		return d.missingVisit(err)
	}
	w := d.visit.walk()
	trail := w.Trail()
	if at.Step < len(trail) {
		return d.earlierPane(at, trail[at.Step])
	}
	if f, ok := view.FindingOf(d.book, w); ok {
		return d.findingPane(f)
	}
	s := w.Step()
	v, _ := view.StepIn(d.book, w, len(trail))
	p := pane{text: v.Text(), side: append(d.trail(view.Trail(d.book, w)), d.links("Cards", v.Cards)...)}
	if d.visit.reason != "" {
		p.body = append(p.body, look.NewCallout(faulttree.Notice, look.NewText(d.visit.reason)))
	}
	for _, doubt := range d.visit.doubts(d.book) {
		p.body = append(p.body, look.NewCallout(faulttree.Caution, look.NewText(doubt)))
	}
	switch s.Kind {
	case faulttree.KindMeasure:
		d.measure(&p, at, s, v)
	case faulttree.KindObserve:
		d.observe(&p, v)
	default:
		d.act(&p, v)
	}
	return p
}

// measure is a step that takes readings.
func (d *Desk) measure(p *pane, at Location, s *faulttree.Step, v view.Step) {
	take := look.NewPrimary("Take this reading", nil)
	take.Hint = "↵"
	if len(s.Measure) > 1 {
		take.SetText("Take these readings")
	}
	r := d.readings(at, s, d.visit.walk().Meter(), nil)
	r.onChange = func(j view.Verdict) { enable(take, j.Ready) }
	r.onEnter = func() {
		if j := r.judge(); j.Ready {
			d.give(j.Answer)
		}
	}
	take.OnTapped = r.onEnter
	enable(take, r.judge().Ready)

	cannot := "I cannot measure this"
	if d.shell.narrow() {
		cannot = "Cannot"
	}
	buttons := look.Row(12, take,
		look.NewButton(cannot, func() { d.Go(Location{Page: pageCannot, ID: at.ID, Step: at.Step}) }))
	if view.SheetOpen(d.book, d.visit.walk()) {
		buttons.Add(look.NewButton("All readings on one page", func() { d.Go(Location{Page: pageSheet, ID: at.ID}) }))
	}
	buttons.Add(look.NewButton("Back", d.stepBack(at)))
	head := d.head(v.Above, v.Question)

	if v.Caution.Signal > 0 {
		p.body = append(p.body, d.cautionLine(v.Caution))
	}
	p.body = append(p.body, head)
	prose := d.blocks(v.Prose)
	pictures := d.probePictures(s.Tree, v.Asked)
	switch {
	case d.shell.narrow() && len(v.Asked) == 1:
		p.body = append(p.body, r.object, buttons, r.ruler, chips(v.Asked[0].Chips), prose, pictures)
	case d.shell.narrow():
		p.body = append(p.body, r.object, buttons, r.ruler, prose, pictures)
	case len(v.Asked) == 1:
		how := look.Stack(look.GapBlock, chips(v.Asked[0].Chips), prose)
		p.body = append(p.body, look.Beside(300, 290, 26, pictures, how), r.object, r.ruler, buttons)
	default:
		p.body = append(p.body, prose, r.object, r.ruler, buttons, pictures)
	}
	p.focus = r.first()
}

// probePictures show where the probes go. Where the tree is about either
// supply, the reader says which plug the vehicle has.
func (d *Desk) probePictures(tree string, asked []view.Asked) fyne.CanvasObject {
	faces := figure.Faces(d.book.Forest.Trees[tree])
	face, shown := faces[0], false
	if slices.Contains(faces, d.settings.Face) {
		face = d.settings.Face
	}
	pictures := look.Grid(230, look.GapBlock, 3)
	for _, a := range asked {
		shown = shown || figure.ShowsFace(a.Quantity)
		picture := look.NewFigure(figure.Probes(a.Quantity, face))
		if len(asked) == 1 {
			pictures.Add(picture)
			break
		}
		pictures.Add(look.Stack(8, look.NewStrong(a.Title), picture, chips(a.Chips)))
	}
	if !shown || len(faces) < 2 {
		return pictures
	}
	plugs := look.Row(8)
	for _, f := range faces {
		plugs.Add(option(f.Rating()+" plug", f == face, func() { d.set(func(s *Settings) { s.Face = f }) }))
	}
	return look.Stack(8, pictures, plugs)
}

// stepBack shows the answer before the step at; from the first step it goes
// to where the reader came from.
func (d *Desk) stepBack(at Location) func() {
	return func() {
		if at.Step > 0 {
			d.Go(Location{Page: pageWalk, ID: at.ID, Step: at.Step - 1})
			return
		}
		d.Go(Location{Page: pageOpening})
	}
}

// observe is a step answered by a choice.
func (d *Desk) observe(p *pane, v view.Step) {
	if v.Caution.Signal > 0 {
		p.body = append(p.body, d.cautionLine(v.Caution))
	}
	grid := look.Grid(300, 14, 2)
	for _, c := range v.Choices {
		grid.Add(look.NewChoice(c.Digit, c.Text, "", func() { d.give(faulttree.Answer{Choice: c.ID}) }))
	}
	p.body = append(p.body, d.head(v.Above, v.Question))
	if len(v.Prose) > 0 {
		p.body = append(p.body, d.blocks(v.Prose))
	}
	p.body = append(p.body, grid, look.Row(12, look.NewButton("Back", d.stepBack(d.present()))))
}

// act is a step that asks for something to be done; a STOP fills the page
// with what to do, before anything is explained.
func (d *Desk) act(p *pane, v view.Step) {
	give := func() { d.give(faulttree.Answer{Done: true}) }
	done := look.NewPrimary("Done", give)
	// Enter has just taken the reading before. It must not also confirm an act,
	// so an act is confirmed with the digit 1.
	done.Hint, p.keys = "1", map[rune]func(){'1': give}
	above := look.NewSoft(v.Above)
	if v.Stop {
		done.SetText("This is done")
		p.body = append(p.body, look.NewBanner(faulttree.Danger, view.Sentence(v.Question), d.blocks(v.Prose)))
		if v.Caution.Signal > 0 {
			p.body = append(p.body, d.cautionLine(v.Caution))
		}
		p.body = append(p.body, above)
	} else {
		if v.Caution.Signal > 0 {
			p.body = append(p.body, d.cautionLine(v.Caution))
		}
		p.body = append(p.body, d.head(v.Above, v.Question), d.blocks(v.Prose))
	}
	p.body = append(p.body, look.Row(12, done, look.NewButton("Back", d.stepBack(d.present()))))
}

// cannotPane asks why a reading can not be taken.
func (d *Desk) cannotPane(at Location) pane {
	if err := d.resume(at.ID); err != nil {
		return d.missingVisit(err)
	}
	w := d.visit.walk()
	s := w.Step()
	if s == nil || s.Kind != faulttree.KindMeasure || at.Step != len(w.Trail()) {
		return d.missingPane("This reading is not asked for any more.")
	}
	give := func(reason string) { d.give(view.CannotMeasure(s, reason)) }
	grid := look.Grid(300, 14, 2)
	for i, reason := range view.Reasons() {
		grid.Add(look.NewChoice(i+1, reason, "", func() { give(reason) }))
	}
	other := d.field("Another reason, in your own words")
	other.SetText(d.draft(at, 0))
	other.OnChanged = func(text string) { d.keep(at, 0, text) }
	other.OnSubmitted = func(text string) {
		if text != "" {
			give(text)
		}
	}
	return pane{body: []fyne.CanvasObject{
		d.head(s.Title, "Why can it not be measured?"),
		look.NewText("A reading that is not taken clears nothing; the walk goes on to the worse side. A display of OL is a reading: type OL."),
		grid, other,
		look.Row(12, look.NewButton("Give this reason", func() { other.OnSubmitted(other.Text) }), look.NewButton("Back", d.Back)),
	}}
}

// earlierPane shows an answer given before, and what a different one would do
// to the answers after it, before anything is done.
func (d *Desk) earlierPane(at Location, e faulttree.Entry) pane {
	w := d.visit.walk()
	s := d.book.Forest.Step(e.Step)
	v, _ := view.StepIn(d.book, w, at.Step)
	p := pane{text: v.Text(), side: append(d.trail(view.Trail(d.book, w)), d.links("Cards", v.Cards)...)}
	goOn := look.NewPrimary("Leave it and go on", func() { d.Go(d.present()) })
	effect := look.NewText("")
	change := look.NewButton("Change this answer", nil)
	change.Hide()
	try := func(a faulttree.Answer) {
		c, err := view.ChangeOf(d.book, w, at.Step, a)
		switch {
		case err != nil:
			effect.SetText(view.Sentence(err.Error()))
			change.Hide()
		case c.Same:
			effect.SetText("This is the answer on record.")
			change.Hide()
		default:
			effect.SetText(c.Sentence())
			change.OnTapped = func() { d.change(at.Step, a) }
			change.Show()
		}
		d.shell.relayout()
	}
	p.body = append(p.body, d.head(v.Above, v.Question))
	switch s.Kind {
	case faulttree.KindMeasure:
		r := d.readings(at, s, w.Meter(), e.Answer.Readings)
		r.onChange = func(j view.Verdict) {
			if j.Ready {
				try(j.Answer)
			} else {
				effect.SetText("")
				change.Hide()
			}
		}
		r.onEnter = func() {
			if change.Visible() {
				change.OnTapped()
			} else {
				goOn.OnTapped()
			}
		}
		p.body = append(p.body, r.object, r.ruler)
		p.focus = r.first()
		if j := r.judge(); j.Ready {
			try(j.Answer)
		}
	case faulttree.KindObserve:
		grid := look.Grid(300, 14, 2)
		for _, c := range v.Choices {
			note := ""
			if c.ID == e.Answer.Choice {
				note = "the answer on record"
			}
			grid.Add(look.NewChoice(c.Digit, c.Text, note, func() { try(faulttree.Answer{Choice: c.ID}); look.Reveal(change) }))
		}
		p.body = append(p.body, grid)
	default:
		p.body = append(p.body, d.blocks(v.Prose), look.NewSoft("This was done."))
		p.focus = goOn
	}
	if d.visit.readOnly() {
		change.Disable()
	}
	p.body = append(p.body, effect, look.Row(12, goOn, change, look.NewButton("Back", d.stepBack(at))))
	return p
}
