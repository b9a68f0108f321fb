package gui

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"faultwright/faulttree"
	"faultwright/gui/look"
)

// The entries of the rail.
const (
	railFind     = "Find the cause"
	railPedestal = "Check a pedestal"
	railCircuit  = "Circuit"
	railPractice = "Practice"
	railHandbook = "Handbook"
	railVisits   = "Visits"
	railSettings = "Settings"
)

// shell is the frame around every page: rail or bar, search entry, columns.
type shell struct {
	d          *Desk
	root       *look.Columns
	entries    []*look.Nav
	menu       *fyne.Container // the same entries for narrow windows
	bar        *fyne.Container
	search     *look.Field
	note       string // a message above the page
	menuOpen   bool
	wholeTrail bool     // every answer is shown, not the last few
	at         Location // the place shown
	class      int      // number of columns the page was built for
}

func newShell(d *Desk) *shell {
	s := &shell{d: d}
	s.search = d.field("Search, or type a reading: “58 V on the bumper”")
	s.search.OnChanged = d.searchFor
	s.search.OnSubmitted = func(string) { d.openFirstHit() }
	s.search.OnEscape = d.leaveSearch
	s.menu = look.Stack(4)
	s.bar = look.Stack(0)
	s.root = look.NewColumns(s.makeRail(), s.bar)
	s.fillBar()
	s.root.OnColumns = func(n int) {
		if n != s.class && s.class != 0 {
			d.render()
		}
	}
	return s
}

// railEntries says where each entry of the rail leads.
func (d *Desk) railEntries() []struct {
	name string
	to   func()
} {
	to := func(page string) func() { return func() { d.Go(Location{Page: page}) } }
	return []struct {
		name string
		to   func()
	}{
		{railFind, d.findCause}, {railPedestal, to(pagePedestal)}, {railCircuit, to(pageCircuit)}, {railPractice, d.findPractice}, {railHandbook, to(pageHandbook)},
		{railVisits, to(pageVisits)}, {railSettings, to(pageSettings)},
	}
}

// findCause leads to the visit under way, or to the opening view if the
// reader is looking at that visit already.
func (d *Desk) findCause() {
	if d.visit != nil && d.book != nil && pages[d.Here().Page].rail != railFind {
		d.Go(d.present())
		return
	}
	d.Go(Location{Page: pageOpening})
}

func (s *shell) makeRail() fyne.CanvasObject {
	column := look.Stack(8, look.Pad(0, 0, 8, 8, look.NewTitle("Faultwright")))
	for _, e := range s.d.railEntries() {
		n := look.NewNav(e.name, e.to)
		s.entries = append(s.entries, n)
		column.Add(n)
	}
	return look.Pad(20, 14, 20, 14, column)
}

// fillBar makes the bar of a narrow window, and its menu while that is open.
func (s *shell) fillBar() {
	menu := look.NewNav("menu", s.toggleMenu)
	find := look.NewNav("search", s.startSearch)
	head := container.New(apart{}, look.NewTitle("Faultwright"), menu, find)
	s.bar.Objects = []fyne.CanvasObject{look.Pad(6, 6, 6, 16, head)}
	if s.menuOpen {
		s.menu.Objects = nil
		for _, e := range s.d.railEntries() {
			to := e.to
			s.menu.Add(look.NewNav(e.name, func() { s.toggleMenu(); to() }))
		}
		s.bar.Objects = append(s.bar.Objects, look.Pad(0, 8, 8, 8, s.menu))
	}
	s.bar.Refresh()
}

func (s *shell) toggleMenu() {
	s.menuOpen = !s.menuOpen
	s.fillBar()
	s.root.Refresh()
	if s.menuOpen {
		s.focus(s.menu.Objects[0].(fyne.Focusable))
	}
}

func (s *shell) narrow() bool { return s.root.Count() == 1 }

// show puts a page into the frame.
func (s *shell) show(rail string, at Location, p pane) {
	for _, n := range s.entries {
		if n.Chosen() != (n.Plain() == rail) {
			n.SetChosen(n.Plain() == rail)
		}
	}
	if s.menuOpen && !s.at.Same(at) {
		s.menuOpen = false
		s.fillBar()
	}
	if at.Page != pageSearch && s.search.Text != "" {
		s.search.SetText("") // the words belong to the search page and its place
	}
	centre := look.Stack(look.GapBlock)
	if at.Page == pageSearch || !s.narrow() && at.Page != pageWelcome {
		centre.Add(s.search)
	}
	if s.note != "" {
		centre.Add(look.NewCallout(faulttree.Notice, look.NewText(s.note)))
	}
	for _, o := range p.body {
		centre.Add(o)
	}
	var side fyne.CanvasObject
	if len(p.side) > 0 {
		side = look.Stack(look.GapSection, p.side...)
	}
	searching := at.Page == pageSearch && s.hasFocus(s.search)
	same := s.at.Same(at)
	offset := at.Offset
	if same && s.class != 0 {
		offset = s.offset()
	}
	s.at, s.class = at, s.root.Count()
	s.root.SetContent(centre, side)
	s.root.SetOffset(offset)
	switch {
	case searching:
		s.focus(s.search)
	case p.focus != nil:
		s.focus(p.focus)
		if !same {
			s.root.SetOffset(offset)
		}
	default:
		s.d.window.Canvas().Unfocus()
	}
}

func (s *shell) hasFocus(o fyne.Focusable) bool {
	return s.d.window != nil && s.d.window.Canvas().Focused() == o
}

func (s *shell) focus(o fyne.Focusable) { s.d.window.Canvas().Focus(o) }

// say shows a message at the top without building the page anew.
func (s *shell) say(text string) { s.d.say(text) }

// startSearch puts the keyboard into the search entry, wherever that is.
func (s *shell) startSearch() {
	if s.narrow() && s.at.Page != pageSearch {
		s.d.Go(Location{Page: pageSearch, Query: s.search.Text})
	}
	s.root.SetOffset(0)
	s.focus(s.search)
}

// relayout makes room for texts that have changed on the page.
func (s *shell) relayout() {
	offset := s.offset()
	s.root.Refresh()
	s.root.SetOffset(offset)
}

func (s *shell) offset() float32        { return s.root.Offset() }
func (s *shell) scrollTo(y float32)     { s.root.SetOffset(max(y, 0)) }
func (s *shell) scrollBy(by float32)    { s.scrollTo(s.offset() + by) }
func (s *shell) page(direction float32) { s.scrollBy(direction * 0.85 * s.root.Size().Height) }

// retext lets everything measure its text again after the theme changed.
func (s *shell) retext() {
	s.fillBar()
	s.root.Refresh()
}

// apart is a layout with its first object at the left and all others at the
// right, each as wide as its text.
type apart struct{}

func (apart) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	x := size.Width
	for i := len(objects) - 1; i > 0; i-- {
		w := objects[i].(interface{ Natural() fyne.Size }).Natural().Width
		x -= w
		objects[i].Resize(fyne.NewSize(w, size.Height))
		objects[i].Move(fyne.NewPos(x, 0))
	}
	objects[0].Resize(fyne.NewSize(x, objects[0].MinSize().Height))
	objects[0].Move(fyne.NewPos(0, (size.Height-objects[0].MinSize().Height)/2))
}

func (apart) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objects {
		m.Width += o.MinSize().Width
		m.Height = max(m.Height, o.MinSize().Height)
	}
	return m
}
