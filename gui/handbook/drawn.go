package handbook

import (
	"fyne.io/fyne/v2"

	"faultwright/content/document"
	"faultwright/content/flow"
	"faultwright/content/view"
	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/gui/parts"
)

// drawn is the page as the reader sees it.
func (a *Area) drawn(e view.Edited) fyne.CanvasObject {
	page := look.Stack(14, look.NewCaption("Page"))
	switch {
	case e.Page.Kind == "":
		page.Add(look.NewText("This text has no page of its own: other pages rest on it."))
		return page
	case e.Signal > faulttree.NoSignal:
		page.Add(look.NewBanner(e.Signal, view.Sentence(e.Title), nil))
	default:
		if e.Caution.Signal > faulttree.NoSignal {
			page.Add(look.NewSignLine(e.Caution.Signal, nil, look.Run{Text: e.Caution.Text()}))
		}
		page.Add(look.NewTitle(e.Title))
	}
	page.Add(look.NewSoft(e.Above))
	page.Add(parts.Blocks(a.window, e.Body))
	if s := a.latest().Forest.Step(faulttree.ParseRef(e.Page.ID, "")); s != nil && e.Page.Kind == view.KindStep {
		for _, o := range a.drawnStep(s) {
			page.Add(o)
		}
	}
	return page
}

// drawnStep is what a step has besides its words: how each reading is taken, and where
// every answer leads; what a finding says is to be done.
func (a *Area) drawnStep(s *faulttree.Step) []fyne.CanvasObject {
	book := a.latest()
	if s.Kind == faulttree.KindFinding {
		v := view.ResultOf(book, faulttree.Result{Ref: s.Ref(), Title: s.Title, For: s.For, Finding: s.Finding})
		out := []fyne.CanvasObject{look.NewSignLine(v.Signal, nil, look.Run{Text: v.Title})}
		for _, f := range v.Facts() {
			out = append(out, look.Stack(2, look.NewStrong(f.Heading), look.NewText(f.Text)))
		}
		return out
	}
	says := view.StepOf(book, s, 0)
	says.Plug = book.Forest.Plug(book.Forest.Tree(s.Tree).Facts)
	probes := parts.NewProbes(says, a.session.Face(), nil)
	var out []fyne.CanvasObject
	for i, asked := range says.Asked {
		out = append(out, look.Stack(8, look.NewStrong(asked.Title), parts.Chips(asked.Chips), look.MaxWidth(300, false, probes.Pictures[i])))
	}
	if ruler := s.Ruler(); len(ruler) > 0 {
		out = append(out, look.NewRuler(look.NewRulerValue(ruler, s.Measure[0].Quantity.Unit, nil)))
	}
	g, err := flow.Of(book, s.Tree, faulttree.Unknown)
	if err != nil {
		return append(out, look.NewSoft(view.Sentence(view.Capital(err.Error()))))
	}
	if i := g.Index(s.Ref()); i >= 0 {
		if g.Nodes[i].Kind == flow.Chart {
			for _, asks := range g.Nodes[i].Asks {
				out = append(out, look.NewText(asks))
			}
		}
		out = append(out, parts.Blocks(a.window, []document.Block{g.Table(i)}))
	}
	return out
}
