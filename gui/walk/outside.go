package walk

import (
	"strings"

	"fyne.io/fyne/v2"

	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/parts"
	"faultwright/gui/place"
)

// treePage introduces a walk before it begins.
func (a *Area) treePage(at place.Location) frame.Page {
	t := a.session.Book().Forest.Trees[at.ID]
	if t == nil {
		return a.window.Missing("There is no walk “" + at.ID + "” in this handbook.")
	}
	begin := look.NewPrimary("Begin", func() { a.begin(faulttree.Ref{Tree: t.ID}) })
	begin.Hint = "↵"
	body := []fyne.CanvasObject{parts.Head(a.window, "Walk", t.Title), look.NewText(t.Summary)}
	if len(t.Symptoms) > 0 {
		body = append(body, look.NewSoft("For: "+strings.Join(t.Symptoms, ", ")+"."))
	}
	body = append(body, look.Row(12, begin, look.NewButton("Back", a.window.Back)))
	return frame.Page{Body: body, Focus: begin}
}

// stepPage shows one step outside a walk, with a reading typed already if it
// came with one, and offers to begin there.
func (a *Area) stepPage(at place.Location) frame.Page {
	ref := faulttree.ParseRef(at.ID, "")
	s := a.session.Book().Forest.Step(ref)
	if s == nil {
		return a.window.Missing("There is no step “" + at.ID + "” in this handbook.")
	}
	v := view.StepOf(a.session.Book(), s, 0)
	p := frame.Page{Text: v.Text(), Side: parts.Links(a.window, "Cards", v.Cards)}
	if v.Caution.Signal > 0 {
		p.Body = append(p.Body, parts.CautionLine(v.Caution))
	}
	p.Body = append(p.Body, parts.Head(a.window, v.Above, v.Question))
	row := look.Row(12)
	closed := s.For == faulttree.Qualified && a.session.Settings().Role == faulttree.Owner
	switch {
	case s.Kind == faulttree.KindFinding:
		p.Body = append(p.Body, look.NewSoft("A finding of this walk. It is reached by readings only."))
	case s.Kind == faulttree.KindWeigh:
		p.Body = append(p.Body, look.NewSoft("A comparison of readings that this walk took before. It is made on the way; nothing is asked."))
	case closed:
		p.Body = append(p.Body, look.NewCallout(faulttree.Warning, look.NewText("This step is for a licensed electrician.")))
	case s.Kind == faulttree.KindMeasure:
		row.Add(a.typedOutside(&p, at, s, v))
	}
	p.Body = append(p.Body, parts.Blocks(a.window, v.Prose))
	row.Add(look.NewButton("Begin the walk at its start", func() { a.begin(faulttree.Ref{Tree: s.Tree}) }))
	row.Add(look.NewButton("Back", a.window.Back))
	p.Body = append(p.Body, row)
	return p
}

// typedOutside puts the entries of a step that is shown outside a walk on the
// page. It returns the button that begins a walk with what is typed.
func (a *Area) typedOutside(p *frame.Page, at place.Location, s *faulttree.Step, v view.Step) *look.Button {
	known := make([]string, len(s.Measure))
	if len(known) > 0 {
		known[parts.Variable(s, at.Kind)] = at.Query
	}
	r := a.readings(at, s, a.session.Settings().Meter, known)
	here := look.NewPrimary("Begin a walk here with this reading", nil)
	stop := look.NewCallout(faulttree.Danger, look.NewStrong("This reading can hurt. Begin a walk here with it now: the next page says what to do first."))
	r.OnChange = func(j view.Judged) {
		parts.Enable(here, j.Ready)
		parts.Show(stop, j.Ready && j.Signal == faulttree.Danger)
	}
	here.OnTapped = func() {
		if j := r.Judge(); j.Ready {
			a.goOn(a.session.BeginWith(s.Ref(), j.Answer))
		}
	}
	r.OnEnter = here.OnTapped
	r.OnChange(r.Judge())
	set := look.Stack(look.GapBlock)
	for _, asked := range v.Asked {
		set.Add(parts.Chips(asked.Chips))
	}
	p.Body = append(append([]fyne.CanvasObject{stop}, p.Body...), r.Object, r.Ruler, set)
	p.Focus = r.First()
	return here
}

// readings are the entries of a step at a place, with what was typed there
// before, or else what is known.
func (a *Area) readings(at place.Location, s *faulttree.Step, m faulttree.Meter, known []string) *parts.Readings {
	texts := make([]string, len(s.Measure))
	copy(texts, known)
	for i := range texts {
		if text, typed := a.session.Draft(at, i); typed {
			texts[i] = text
		}
	}
	return parts.NewReadings(a.window, a.session.Book(), s, m, texts, func(i int, text string) { a.session.Keep(at, i, text) })
}
