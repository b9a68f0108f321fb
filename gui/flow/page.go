package flow

import (
	"fmt"
	"slices"

	"fyne.io/fyne/v2"

	"faultwright/content/figure"
	"faultwright/content/flow"
	"faultwright/content/view"
	"faultwright/gui/frame"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// flowPage is the page while it is shown.
type flowPage struct {
	a      *Area
	where  place.Location
	layout flow.Layout
	state  *state
	marks  flow.Marks

	pane  *look.Viewport
	field *look.Field
	about *look.Prose  // what a search has found, and what has the keyboard
	open  *look.Button // opens it
}

func newFlowPage(a *Area, at place.Location, l flow.Layout, s *state) *flowPage {
	f := &flowPage{a: a, where: at, layout: l, state: s, marks: flow.NoMarks()}
	f.marks.At = f.boxNamed(s.at)
	if f.marks.At < 0 {
		f.marks.At, s.view.Zoom = l.First(), 0
	}
	f.marks.Found = l.Graph.Find(at.Query)
	f.pane = look.NewViewport(l.Draw(f.marks), s.view)
	if s.view.Zoom == 0 {
		f.pane.Look(l.Around(f.marks.At))
	}
	f.pane.OnTapped, f.pane.OnMoved = f.tapped, f.moved
	f.pane.OnArrow, f.pane.OnKey = f.arrow, f.key
	f.about = look.NewStrong("")
	f.about.Room = 1
	if a.window.Narrow() {
		f.about.Room = 2
	}
	f.open = look.NewPrimary("Open", f.follow)
	f.open.Hint = "↵"
	f.field = a.window.Field("Find in this flow")
	f.field.SetText(at.Query)
	f.field.OnChanged = f.search
	f.field.OnSubmitted = func(string) { f.next() }
	return f
}

// name is a box by what it stands for, wherever it lies in another layout.
func (f *flowPage) name(box int) string {
	b := f.layout.Boxes[box]
	name := f.layout.Graph.Nodes[b.Node].Ref.String()
	if b.Beside >= 0 {
		name += " beside " + f.layout.Graph.Nodes[b.Beside].Ref.String()
	}
	return name
}

// boxNamed is the box of that name, -1 for none.
func (f *flowPage) boxNamed(name string) int {
	for i := range f.layout.Boxes {
		if f.name(i) == name {
			return i
		}
	}
	return -1
}

// node is what has the keyboard.
func (f *flowPage) node() flow.Node { return f.layout.Graph.Nodes[f.layout.Boxes[f.marks.At].Node] }

func (f *flowPage) page() frame.Page {
	f.say()
	w := f.a.window
	zoom := func(factor float64) func() { return func() { f.pane.ZoomBy(factor) } }
	full := func() { f.pane.Look(f.layout.Around(f.marks.At)) }
	tools := look.Row(8, look.NewNav("Nearer", zoom(1.25)), look.NewNav("Farther", zoom(0.8)), look.NewNav("100 %", full), look.NewNav("Whole", f.pane.Whole))
	head := look.Beside(0, 300, 8, look.NewTitle(f.layout.Graph.Title), tools)
	row := look.Row(12, f.open, look.NewButton("Back", w.Back))
	foot := look.Stack(8, f.about, look.Beside(200, 200, 12, f.field, row))
	if !w.Narrow() {
		foot.Add(look.NewSoft("By keyboard: arrows from box to box, Enter opens, + and − zoom, 1 for 100 %, 0 for the whole, F finds, N the next."))
	}
	return frame.Page{
		Body: []fyne.CanvasObject{head, f.pane}, Foot: foot,
		Focus: f.pane, Whole: true, Fills: f.pane, Text: f.layout.Graph.Text(),
		Keys: map[rune]func(){
			'+': zoom(1.25), '=': zoom(1.25), '-': zoom(0.8), '0': f.pane.Whole, '1': full,
			'f': func() { w.Focus(f.field) }, 'n': f.next,
		},
	}
}

// moved keeps what is shown for when the reader comes back.
func (f *flowPage) moved() {
	f.state.view = f.pane.View()
}

// say words what has the keyboard, and what its button does.
func (f *flowPage) say() {
	n := f.node()
	f.state.at = f.name(f.marks.At)
	about := view.Sentence(f.opens() + n.Name())
	if f.where.Query != "" {
		about = fmt.Sprintf("%d found. %s", len(f.marks.Found), about)
	}
	f.about.SetText(about)
}

// opens says what Enter does with what has the keyboard.
func (f *flowPage) opens() string {
	n := f.node()
	switch {
	case n.Step() && f.layout.Boxes[f.marks.At].Beside >= 0:
		return "Go on to step "
	case n.Kind == flow.Finding:
		return "Finding. "
	case n.Kind == flow.Door:
		return "To another walk. "
	}
	return "Step "
}

// follow does what Enter does: on a plate of a step it goes to the step.
func (f *flowPage) follow() {
	b := f.layout.Boxes[f.marks.At]
	n := f.node()
	switch {
	case n.Step() && b.Beside >= 0:
		f.mark(b.Node)
	case n.Kind == flow.Door:
		f.a.seen[n.Ref.Tree] = &state{at: n.Ref.String(), visit: f.state.visit, answers: f.state.answers}
		f.a.window.Go(place.Flow(n.Ref.Tree, f.where.Kind))
	default:
		f.a.window.Go(place.Document(view.KindStep, n.Ref.String()))
	}
}

// mark gives a box the keyboard and brings it into view.
func (f *flowPage) mark(box int) {
	f.marks.At = box
	f.redraw()
	f.pane.Reveal(f.layout.Boxes[box].Box)
	f.moved()
}

func (f *flowPage) redraw() {
	f.pane.SetDrawing(f.layout.Draw(f.marks))
	f.say()
	f.a.window.Relayout()
}

// tapped marks the box that was tapped; one that is marked is opened.
func (f *flowPage) tapped(at figure.Point) {
	switch box := f.layout.At(at); {
	case box < 0:
	case box == f.marks.At:
		f.follow()
	default:
		f.mark(box)
	}
}

func (f *flowPage) arrow(dx, dy float64) { f.mark(f.layout.Next(f.marks.At, dx, dy)) }

func (f *flowPage) key(name fyne.KeyName) bool {
	if name != fyne.KeyReturn && name != fyne.KeyEnter {
		return false
	}
	f.follow()
	return true
}

// search marks what holds the words, and keeps them with the place.
func (f *flowPage) search(words string) {
	f.where = f.a.window.Here()
	f.where.Query = words
	f.a.window.Remember(f.where)
	f.marks.Found = f.layout.Graph.Find(words)
	f.redraw()
}

// next goes to the next box found.
func (f *flowPage) next() {
	if len(f.marks.Found) == 0 {
		return
	}
	node := f.layout.Boxes[f.marks.At].Node
	i := slices.IndexFunc(f.marks.Found, func(found int) bool { return found > node })
	f.mark(f.layout.BoxOf(f.marks.Found[max(i, 0)]))
}
