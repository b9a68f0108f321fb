package walk

import (
	"cmp"
	"slices"
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
	t := a.session.Book().Forest.Tree(at.ID)
	if t == nil {
		return a.window.Missing("There is no walk “" + at.ID + "” in this handbook.")
	}
	begin := look.NewPrimary("Begin", func() { a.begin(faulttree.Ref{Tree: t.ID}) })
	begin.Hint = "1"
	body := []fyne.CanvasObject{parts.Head(a.window, "Walk", t.Title), look.NewText(t.Summary)}
	if len(t.Symptoms) > 0 {
		body = append(body, look.NewSoft("For: "+strings.Join(t.Symptoms, ", ")+"."))
	}
	body = append(body, a.whose()...)
	whole := look.NewButton(seeWhole, func() { a.window.Go(place.Flow(t.ID, a.session.VisitIn(t.ID))) })
	body = append(body, look.Row(12, begin, whole, a.print(t.ID), look.NewButton("Back", a.window.Back)))
	return frame.Page{Body: body}
}

// print is the button that leads to a walk or a chart as a page to pin up.
func (a *Area) print(id string) *look.Button {
	return look.NewButton("Print", func() { a.window.Go(place.Print(id)) })
}

// seeWhole leads to the flow of a walk.
const seeWhole = "See the walk whole"

// stepPage shows one step outside a walk, with a reading typed already if it
// came with one, and offers to begin there.
func (a *Area) stepPage(at place.Location) frame.Page {
	ref := faulttree.ParseRef(at.ID, "")
	s := a.session.Book().Forest.Step(ref)
	if s == nil {
		return a.window.Missing("There is no step “" + at.ID + "” in this handbook.")
	}
	v := view.StepOf(a.session.Book(), s, 0)
	forest := a.session.Book().Forest
	v.Plug = cmp.Or(forest.Plug(forest.Tree(ref.Tree).Facts), forest.Plug(a.session.Facts()))
	p := frame.Page{Text: v.Text(), Side: parts.Links(a.window, "Cards", v.Cards)}
	if v.Caution.Signal > 0 {
		p.Body = append(p.Body, parts.CautionLine(a.window, v.Caution, a.folds(at)))
	}
	p.Body = append(p.Body, parts.Head(a.window, v.Above, v.Question))
	start := look.NewButton("Begin the walk at its start", func() { a.begin(faulttree.Ref{Tree: ref.Tree}) })
	others := []fyne.CanvasObject{start, look.NewButton("Back", a.window.Back)}
	if s.Kind == faulttree.KindChart {
		others = slices.Insert(others, 1, fyne.CanvasObject(a.print(s.Ref().String())))
	}
	closed := s.For == faulttree.Qualified && a.session.Settings().Role == faulttree.Owner
	if s.Kind == faulttree.KindMeasure && !closed {
		a.typedOutside(&p, at, faulttree.Ref{Tree: ref.Tree, Step: s.ID}, v, others)
		return p
	}
	switch {
	case s.Kind == faulttree.KindFinding:
		p.Body = append(p.Body, look.NewSoft("A finding of this walk. It is reached by readings only."))
	case closed:
		p.Body = append(p.Body, look.NewCallout(faulttree.Warning, look.NewText("This step is for a licensed electrician.")))
	}
	p.Body = append(p.Body, parts.Blocks(a.window, v.Prose), look.Row(12, others...))
	return p
}

// typedOutside puts the entries of a step that is shown outside a walk on the
// page, and the button that begins a walk there with what is typed.
func (a *Area) typedOutside(p *frame.Page, at place.Location, ref faulttree.Ref, v view.Step, others []fyne.CanvasObject) {
	s := a.session.Book().Forest.Step(ref)
	known := make([]string, len(s.Measure))
	if len(known) > 0 {
		known[parts.Variable(s, at.Kind)] = at.Query
	}
	r := a.readings(at, s, a.session.Settings().Meter, known)
	here := look.NewPrimary("Begin a walk here with this reading", nil)
	var j view.Judged
	var so *look.Check // what does not hurt counts only if it was taken as this page says
	ready := func() {
		parts.Show(so, j.Ready && j.Signal != faulttree.Danger)
		parts.Enable(here, j.Ready && (j.Signal == faulttree.Danger || so.Checked))
		a.window.Relayout()
	}
	so = look.NewCheck("Read as this page says, with a proved meter", false, func(bool) { ready() })
	stop := look.NewCallout(faulttree.Danger, look.NewStrong("This reading can hurt. Begin a walk here with it now: the next page says what to do first."))
	lead, rest := look.NewStrong(""), look.NewSoft("")
	r.OnChange = func(now view.Judged) {
		j = now
		ready()
		parts.Show(stop, j.Ready && j.Signal == faulttree.Danger)
		strong, soft := parts.JudgedWords(j)
		parts.ShowText(lead, strong)
		parts.ShowText(rest, soft)
	}
	here.OnTapped = func() {
		switch {
		case !here.Disabled():
			a.goOn(a.session.BeginWith(ref, j.Answer))
		case j.Ready:
			a.window.Focus(so)
		}
	}
	r.OnEnter = here.OnTapped
	r.OnChange(r.Judge())
	body, entry := a.instruction(at, v, r)
	p.Body = append(p.Body, body...)
	buttons := append([]fyne.CanvasObject{here}, others...)
	p.Focus = r.First()
	if entry == nil {
		p.Foot = footOf(a.window.Narrow(), []fyne.CanvasObject{stop, lead, rest, so}, nil, r.Ruler, buttons, nil)
		return
	}
	// The button's words are too long to stand beside the field.
	p.Foot = look.Stack(10, stop, look.Beside(0, 180, 18, entry, look.Stack(0, lead, rest)), so, look.Row(12, buttons...))
	if r.Ruler != nil && !a.window.Narrow() {
		p.Body = append(p.Body, r.Ruler)
	}
}
