package frame

import (
	"fmt"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/container"

	"faultwright/faulttree"
	"faultwright/gui/look"
	"faultwright/gui/place"
)

// shell is the frame around every page: rail or bar, search entry, columns.
type shell struct {
	f        *Frame
	root     *look.Columns
	entries  []*look.Nav
	menu     *fyne.Container // the same entries for narrow windows
	bar      *fyne.Container
	search   *look.Field
	menuOpen bool
	at       place.Location // the place shown
	columns  int            // number of columns the page was built for
}

func newShell(f *Frame) *shell {
	s := &shell{f: f}
	s.search = f.Field("Search, or type a reading: “58 V on the bumper”")
	s.search.OnChanged = f.searchFor
	s.search.OnSubmitted = func(string) { f.firstHit() }
	s.search.OnEscape = f.leaveSearch
	s.menu = look.Stack(4)
	s.bar = look.Stack(0)
	s.root = look.NewColumns(s.makeRail(), s.bar)
	s.fillBar()
	s.root.OnColumns = func(n int) {
		if n != s.columns && s.columns != 0 {
			f.Render()
		}
	}
	return s
}

func (s *shell) makeRail() fyne.CanvasObject {
	column := look.Stack(8, look.Pad(0, 0, 8, 8, look.NewTitle("Faultwright")))
	for _, e := range s.f.options.Rail {
		n := look.NewNav(e.Name, e.Open)
		s.entries = append(s.entries, n)
		column.Add(n)
	}
	return look.Pad(20, 14, 20, 14, column)
}

// fillBar makes the bar of a narrow window, and its menu while that is open.
func (s *shell) fillBar() {
	menu := look.NewNav("menu", s.toggleMenu)
	find := look.NewNav("search", s.f.StartSearch)
	head := container.New(spread{}, look.NewTitle("Faultwright"), menu, find)
	s.bar.Objects = []fyne.CanvasObject{look.Pad(6, 6, 6, 16, head)}
	if s.menuOpen {
		s.menu.Objects = nil
		for _, e := range s.f.options.Rail {
			to := e.Open
			s.menu.Add(look.NewNav(e.Name, func() { s.toggleMenu(); to() }))
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

// searchable reports whether the search entry stands on the page of a place.
func (s *shell) searchable(at place.Location) bool {
	return at.Page == place.SearchPage || !s.narrow() && at.Page != place.WelcomePage && !s.f.page.Whole
}

// show puts a page into the frame.
func (s *shell) show(rail string, at place.Location, p Page) {
	for _, n := range s.entries {
		if n.Chosen() != (n.Plain() == rail) {
			n.SetChosen(n.Plain() == rail)
		}
	}
	if s.menuOpen && !s.at.Same(at) {
		s.menuOpen = false
		s.fillBar()
	}
	words := "" // they belong to the search page and its place
	if at.Page == place.SearchPage {
		words = at.Query
	}
	if s.search.Text != words {
		s.search.SetText(words)
	}
	centre := look.Stack(look.GapBlock)
	if s.searchable(at) {
		centre.Add(s.search)
	}
	for _, o := range p.Body {
		centre.Add(o)
	}
	var side fyne.CanvasObject
	if len(p.Side) > 0 {
		side = look.Stack(look.GapSection, p.Side...)
	}
	var foot fyne.CanvasObject
	under := look.Stack(look.GapSmall)
	if s.f.note != "" { // next to what is typed and pressed, and moving neither
		under.Add(look.NewCallout(faulttree.Notice, look.NewText(s.f.note)))
	}
	if p.Foot != nil {
		under.Add(p.Foot)
	}
	if len(under.Objects) > 0 {
		foot = under
	}
	searching := at.Page == place.SearchPage && s.hasFocus(s.search)
	same := s.at.Same(at)
	offset := at.Offset
	if same && s.columns != 0 {
		offset = s.offset()
	}
	s.at, s.columns = at, s.root.Count()
	s.root.Fills = p.Fills
	s.root.SetContent(centre, side, foot)
	s.root.SetOffset(offset)
	switch {
	case searching:
		s.focus(s.search)
	case p.Focus != nil:
		s.f.window.Canvas().Unfocus() // what had the keyboard is not on this page any more
		s.focus(p.Focus)
		if !same {
			s.root.SetOffset(offset)
		}
	default:
		s.f.window.Canvas().Unfocus()
	}
}

func (s *shell) hasFocus(o fyne.Focusable) bool {
	return s.f.window != nil && s.f.window.Canvas().Focused() == o
}

func (s *shell) focus(o fyne.Focusable) { s.f.window.Canvas().Focus(o) }

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

// spread is a layout with its first object at the left and all others at the
// right, each as wide as its text. Where there is no room for all, the first is left out:
// its words would be broken.
type spread struct{}

type natural interface{ Natural() fyne.Size }

func (spread) Layout(objects []fyne.CanvasObject, size fyne.Size) {
	x := size.Width
	for i := len(objects) - 1; i > 0; i-- {
		w := objects[i].(natural).Natural().Width
		x -= w
		objects[i].Resize(fyne.NewSize(w, size.Height))
		objects[i].Move(fyne.NewPos(x, 0))
	}
	if objects[0].(natural).Natural().Width > x {
		objects[0].Hide()
		return
	}
	objects[0].Show()
	objects[0].Resize(fyne.NewSize(x, objects[0].MinSize().Height))
	objects[0].Move(fyne.NewPos(0, (size.Height-objects[0].MinSize().Height)/2))
}

func (spread) MinSize(objects []fyne.CanvasObject) fyne.Size {
	var m fyne.Size
	for _, o := range objects {
		if o.Visible() {
			m.Width += o.MinSize().Width
			m.Height = max(m.Height, o.MinSize().Height)
		}
	}
	return m
}

const (
	prefSize = "window.size" // one entry, since each is a file written anew

	usualWidth, usualHeight = 1280, 800
	leastWidth, leastHeight = 480, 640
	mostWidth, mostHeight   = 7680, 4320
)

func (f *Frame) restoreSize() {
	var w, h int
	if n, err := fmt.Sscanf(f.app.Preferences().String(prefSize), "%dx%d", &w, &h); n != 2 || err != nil {
		w, h = usualWidth, usualHeight
	}
	w = min(max(w, leastWidth), mostWidth)
	h = min(max(h, leastHeight), mostHeight)
	f.window.Resize(fyne.NewSize(float32(w), float32(h)))
}

// titleBar is room, in the window's units, for what a desktop puts around a
// window; no toolkit tells it. From memory: the usual desktops take 30 to 40.
const titleBar = 44

// FitScreen makes the window no larger than the room for windows on its screen,
// in pixels. A room of nothing is not known, and changes nothing.
func (f *Frame) FitScreen(room fyne.Size) {
	if room.Width <= 0 || room.Height <= 0 {
		return
	}
	scale := f.window.Canvas().Scale()
	most := fyne.NewSize(room.Width/scale, room.Height/scale-titleBar)
	size := f.window.Canvas().Size()
	if size.Width > most.Width || size.Height > most.Height {
		f.window.Resize(size.Min(most))
	}
}

func (f *Frame) rememberSize() {
	size := f.window.Canvas().Size()
	now := fmt.Sprintf("%dx%d", int(size.Width), int(size.Height))
	if now != f.app.Preferences().String(prefSize) {
		f.app.Preferences().SetString(prefSize, now)
	}
}

// Close remembers the window's size, stops all work and closes the window.
func (f *Frame) Close() {
	f.rememberSize()
	f.runner.CancelAll()
	if f.options.Closed != nil {
		f.options.Closed()
	}
	f.window.Close()
}
