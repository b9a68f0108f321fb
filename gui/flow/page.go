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

// sheet is the page while it is shown.
type sheet struct {
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

// Heights of the window that the rest of the page needs.
const (
	aroundWide   float32 = 254
	aroundNarrow float32 = 322
)

func newSheet(a *Area, at place.Location, l flow.Layout, s *state) *sheet {
	h := &sheet{a: a, where: at, layout: l, state: s, marks: flow.NoMarks()}
	h.marks.At = h.boxNamed(s.at)
	if h.marks.At < 0 {
		h.marks.At, s.view.Zoom = l.First(), 0
	}
	h.marks.Found = l.Graph.Find(at.Query)
	h.pane = look.NewViewport(l.Draw(h.marks), s.view)
	if s.view.Zoom == 0 {
		h.pane.Look(l.Boxes[h.marks.At].Box)
	}
	h.pane.Leave = aroundWide * look.TextScale()
	if a.window.Narrow() {
		h.pane.Leave = aroundNarrow * look.TextScale()
	}
	h.pane.OnTapped, h.pane.OnMoved = h.tapped, h.moved
	h.pane.OnArrow, h.pane.OnKey = h.arrow, h.key
	h.about = look.NewStrong("")
	h.about.Room = 1
	if a.window.Narrow() {
		h.about.Room = 2
	}
	h.open = look.NewPrimary("Open", h.follow)
	h.open.Hint = "↵"
	h.field = a.window.Field("Find in this flow")
	h.field.SetText(at.Query)
	h.field.OnChanged = h.search
	h.field.OnSubmitted = func(string) { h.next() }
	return h
}

// name is a box by what it stands for, wherever it lies in another layout.
func (h *sheet) name(box int) string {
	b := h.layout.Boxes[box]
	name := h.layout.Graph.Nodes[b.Node].Ref.String()
	if b.Beside >= 0 {
		name += " beside " + h.layout.Graph.Nodes[b.Beside].Ref.String()
	}
	return name
}

// boxNamed is the box of that name, -1 for none.
func (h *sheet) boxNamed(name string) int {
	for i := range h.layout.Boxes {
		if h.name(i) == name {
			return i
		}
	}
	return -1
}

// node is what has the keyboard.
func (h *sheet) node() flow.Node { return h.layout.Graph.Nodes[h.layout.Boxes[h.marks.At].Node] }

func (h *sheet) page() frame.Page {
	h.say()
	w := h.a.window
	zoom := func(factor float64) func() { return func() { h.pane.ZoomBy(factor) } }
	full := func() { h.pane.Look(h.layout.Boxes[h.marks.At].Box) }
	tools := look.Row(8, look.NewNav("Nearer", zoom(1.25)), look.NewNav("Farther", zoom(0.8)), look.NewNav("100 %", full), look.NewNav("Whole", h.pane.Whole))
	head := look.Beside(0, 300, 8, look.NewTitle(h.layout.Graph.Title), tools)
	row := look.Row(12, h.open, look.NewButton("Back", w.Back))
	foot := look.Stack(8, h.about, look.Beside(200, 200, 12, h.field, row))
	if !w.Narrow() {
		foot.Add(look.NewSoft("By keyboard: arrows from box to box, Enter opens, + and − zoom, 1 for 100 %, 0 for the whole, F finds, N the next."))
	}
	return frame.Page{
		Body: []fyne.CanvasObject{head, h.pane}, Foot: foot,
		Focus: h.pane, Whole: true, Text: h.layout.Graph.Text(),
		Keys: map[rune]func(){
			'+': zoom(1.25), '=': zoom(1.25), '-': zoom(0.8), '0': h.pane.Whole, '1': full,
			'f': func() { w.Focus(h.field) }, 'n': h.next,
		},
	}
}

// moved keeps what is shown for when the reader comes back.
func (h *sheet) moved() {
	h.state.view = h.pane.View()
}

// say words what has the keyboard, and what its button does.
func (h *sheet) say() {
	n := h.node()
	h.state.at = h.name(h.marks.At)
	about := view.Sentence(h.opens() + n.Name())
	if h.where.Query != "" {
		about = fmt.Sprintf("%d found. %s", len(h.marks.Found), about)
	}
	h.about.SetText(about)
}

// opens says what Enter does with what has the keyboard.
func (h *sheet) opens() string {
	n := h.node()
	switch {
	case n.Step() && h.layout.Boxes[h.marks.At].Beside >= 0:
		return "Go on to step "
	case n.Kind == flow.Finding:
		return "Finding. "
	case n.Kind == flow.Door:
		return "To another walk. "
	}
	return "Step "
}

// follow does what Enter does: on a plate of a step it goes to the step.
func (h *sheet) follow() {
	b := h.layout.Boxes[h.marks.At]
	n := h.node()
	switch {
	case n.Step() && b.Beside >= 0:
		h.mark(b.Node)
	case n.Kind == flow.Door:
		h.a.seen[n.Ref.Tree] = &state{at: n.Ref.String()}
		h.a.window.Go(place.Flow(n.Ref.Tree, h.where.Kind))
	default:
		h.a.window.Go(place.Document(view.KindStep, n.Ref.String()))
	}
}

// mark gives a box the keyboard and brings it into view.
func (h *sheet) mark(box int) {
	h.marks.At = box
	h.redraw()
	h.pane.Reveal(h.layout.Boxes[box].Box)
}

func (h *sheet) redraw() {
	h.pane.SetDrawing(h.layout.Draw(h.marks))
	h.say()
	h.a.window.Relayout()
}

// tapped marks the box that was tapped; one that is marked is opened.
func (h *sheet) tapped(at figure.Point) {
	switch box := h.layout.At(at); {
	case box < 0:
	case box == h.marks.At:
		h.follow()
	default:
		h.mark(box)
	}
}

func (h *sheet) arrow(dx, dy float64) { h.mark(h.layout.Next(h.marks.At, dx, dy)) }

func (h *sheet) key(name fyne.KeyName) bool {
	if name != fyne.KeyReturn && name != fyne.KeyEnter {
		return false
	}
	h.follow()
	return true
}

// search marks what holds the words, and keeps them with the place.
func (h *sheet) search(words string) {
	h.where = h.a.window.Here()
	h.where.Query = words
	h.a.window.Remember(h.where)
	h.marks.Found = h.layout.Graph.Find(words)
	h.redraw()
}

// next goes to the next box found.
func (h *sheet) next() {
	if len(h.marks.Found) == 0 {
		return
	}
	node := h.layout.Boxes[h.marks.At].Node
	i := slices.IndexFunc(h.marks.Found, func(found int) bool { return found > node })
	h.mark(h.layout.BoxOf(h.marks.Found[max(i, 0)]))
}
