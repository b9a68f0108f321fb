package look

import (
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/widget"
)

// Widths of the window's parts, in points at text size 1.
const (
	ThreeFrom float32 = 1100 // window width from which there are three columns
	TwoFrom   float32 = 800  // and two
	RailWidth float32 = 176
	SideWidth float32 = 320
	StepWidth float32 = 760  // the centre beside a side column is no wider
	PageWidth float32 = 1072 // the centre without a side column is no wider

	topRoom, underRoom float32 = 24, 32 // above and under the centre
)

// Columns is the frame of the window. From ThreeFrom there are a rail, the
// centre and a side column; from TwoFrom the side comes under the centre; below
// that a bar above the centre stands for the rail. Centre and side scroll
// downwards only, and nothing scrolls sideways. A foot stays in view under the
// centre; where it would take more than two thirds of the height it ends the centre
// instead and scrolls with it.
type Columns struct {
	widget.BaseWidget

	// OnColumns, if set, is told when the number of columns changes.
	OnColumns func(n int)

	// Fills is the part of the centre that takes the width and the height that all else
	// leaves; nil for none. Set it before [Columns.SetContent].
	Fills *Viewport

	rail, bar, centre, side fyne.CanvasObject
	foot                    fyne.CanvasObject // nil for none
	fixed                   *fyne.Container   // the foot while it stays in view, with the space around it
	count                   int
	main, aside             *Scroll
}

// NewColumns makes the frame: rail for wide windows, bar for narrow ones.
func NewColumns(rail, bar fyne.CanvasObject) *Columns {
	c := &Columns{rail: rail, bar: bar, main: NewScroll(nil), aside: NewScroll(nil), fixed: container.New(pad{})}
	c.aside.onShort = c.main.Scrolled
	c.ExtendBaseWidget(c)
	return c
}

// SetContent shows another view; side may be nil, and so may foot, which stays
// in view under the centre. The scroll begins at the top.
func (c *Columns) SetContent(centre, side, foot fyne.CanvasObject) {
	c.centre, c.side, c.foot = centre, side, foot
	c.fixed.Hidden = foot == nil
	c.main.Offset, c.aside.Offset = fyne.Position{}, fyne.Position{}
	c.fill()
	c.Refresh()
}

// Count is the number of columns the width allows: 1, 2 or 3.
func (c *Columns) Count() int { return max(c.count, 1) }

// Offset is how far the centre is scrolled, to be kept with a location.
func (c *Columns) Offset() float32 { return c.main.Offset.Y }

// SetOffset scrolls the centre.
func (c *Columns) SetOffset(y float32) { c.main.ScrollToOffset(fyne.NewPos(0, y)) }

// Scrolled takes the mouse wheel where nothing else does, such as over the rail:
// it scrolls the centre.
func (c *Columns) Scrolled(ev *fyne.ScrollEvent) { c.main.Scrolled(ev) }

func columnsAt(width float32) int {
	switch width /= TextScale(); {
	case width >= ThreeFrom:
		return 3
	case width >= TwoFrom:
		return 2
	}
	return 1
}

// around is the space beside the centre, which is no wider than most.
func (c *Columns) around() (around, most float32) {
	around, most = 32, StepWidth
	if c.count <= 1 {
		around = 16
	}
	switch {
	case c.Fills != nil:
		most = math.MaxInt16
	case c.side == nil:
		most = PageWidth
	}
	return around, most
}

// fill deals centre, side and foot out to their places for the present count.
func (c *Columns) fill() {
	if c.centre == nil {
		return
	}
	around, most := c.around()
	top, centre := topRoom, c.centre
	var aside fyne.CanvasObject
	c.fixed.Objects = nil
	switch {
	case c.foot == nil:
	case c.fixed.Hidden:
		centre = Stack(GapBlock, centre, c.foot)
	default:
		c.fixed.Objects = []fyne.CanvasObject{Pad(GapSmall, around, GapBlock, around, MaxWidth(most, true, c.foot))}
	}
	switch {
	case c.side == nil:
	case c.count == 3:
		aside = Pad(24, 20, 32, 20, c.side)
	default:
		top, centre = 16, Stack(GapSection, centre, NewLine(), c.side)
	}
	c.main.SetContent(Pad(top, around, underRoom, around, MaxWidth(most, true, centre)))
	c.aside.SetContent(aside)
}

// fitFoot keeps the foot in view where it leaves the centre a third of a room, and what
// fills it the least that this needs, and returns the height it then takes.
func (c *Columns) fitFoot(room fyne.Size) float32 {
	if c.foot == nil {
		return 0
	}
	around, most := c.around()
	h := heightAt(c.foot, min(room.Width-2*around, most*TextScale())) + GapSmall + GapBlock
	if scrolls := h > room.Height*2/3 || c.Fills != nil && h+c.least(room.Width) > room.Height; scrolls != c.fixed.Hidden {
		offset := c.main.Offset
		c.fixed.Hidden = scrolls
		c.fill()
		c.main.Offset = offset
	}
	if c.fixed.Hidden {
		return 0
	}
	return h
}

// least is the height of the centre alone while what fills it takes no more than it must.
func (c *Columns) least(width float32) float32 {
	around, most := c.around()
	spare := c.Fills.Spare
	c.Fills.Spare = 0
	defer func() { c.Fills.Spare = spare }()
	return heightAt(c.centre, min(width-2*around, most*TextScale())) + topRoom + underRoom
}

// spare gives what fills the centre the height that all else leaves; none where the foot
// scrolls with it.
func (c *Columns) spare(room fyne.Size) {
	if c.Fills == nil {
		return
	}
	now := float32(0)
	if !c.fixed.Hidden {
		now = max(0, room.Height-c.least(room.Width))
	}
	if now != c.Fills.Spare {
		c.Fills.Spare = now
		c.main.Content.Refresh()
	}
}

func (c *Columns) held() []fyne.CanvasObject {
	first := c.rail
	if c.count <= 1 {
		first = c.bar
	}
	out := []fyne.CanvasObject{first, c.main, c.fixed}
	if c.count == 3 && c.side != nil {
		out = append(out, c.aside)
	}
	return out
}

// CreateRenderer is called by the toolkit.
func (c *Columns) CreateRenderer() fyne.WidgetRenderer {
	return &columnsRenderer{c: c, left: NewLine(), right: NewLine(), under: NewLine()}
}

type columnsRenderer struct {
	c                  *Columns
	left, right, under *Line
}

func (r *columnsRenderer) Layout(size fyne.Size) {
	c := r.c
	if n := columnsAt(size.Width); n != c.count {
		c.count = n
		c.fill()
		if c.OnColumns != nil {
			c.OnColumns(n)
		}
		defer canvas.Refresh(c)
	}
	if c.count == 1 {
		h := heightAt(c.bar, size.Width)
		place(c.bar, 0, 0, size.Width, h)
		place(r.left, 0, h, size.Width, 1)
		r.centre(0, h+1, size.Width, size.Height-h-1)
		return
	}
	rail, side := RailWidth*TextScale(), float32(0)
	place(c.rail, 0, 0, rail, size.Height)
	place(r.left, rail, 0, 1, size.Height)
	if c.count == 3 && c.side != nil {
		side = SideWidth * TextScale()
		place(r.right, size.Width-side, 0, 1, size.Height)
		place(c.aside, size.Width-side+1, 0, side-1, size.Height)
	}
	r.centre(rail+1, 0, size.Width-rail-1-side, size.Height)
}

// centre lays out what scrolls, and the foot under it.
func (r *columnsRenderer) centre(x, y, w, h float32) {
	foot := r.c.fitFoot(fyne.NewSize(w, h))
	r.c.spare(fyne.NewSize(w, h-foot))
	place(r.c.main, x, y, w, h-foot)
	r.under.Hidden = foot == 0
	place(r.under, x, y+h-foot, w, 1)
	place(r.c.fixed, x, y+h-foot+1, w, max(foot-1, 0))
}

// MinSize lets the window be small; what does not fit scrolls.
func (r *columnsRenderer) MinSize() fyne.Size { return fyne.NewSize(320, 320) }

func (r *columnsRenderer) Refresh() {
	for _, o := range r.Objects() {
		o.Refresh()
	}
	r.Layout(r.c.Size())
	canvas.Refresh(r.c)
}

func (r *columnsRenderer) Objects() []fyne.CanvasObject {
	out := append(r.c.held(), r.left, r.under)
	if len(r.c.held()) == 4 {
		out = append(out, r.right)
	}
	return out
}
func (r *columnsRenderer) Destroy() {}

// Scroll scrolls downwards only. Unlike the toolkit's it gives its content the
// width first and then asks for the height, so that wrapped text is never cut
// off, and content that is too wide is squeezed rather than scrolled sideways.
type Scroll struct {
	container.Scroll

	onShort func(*fyne.ScrollEvent) // takes the wheel while all content is in view
}

// NewScroll scrolls content; nil shows nothing.
func NewScroll(content fyne.CanvasObject) *Scroll {
	s := &Scroll{}
	s.Direction = container.ScrollVerticalOnly
	s.ExtendBaseWidget(s)
	s.SetContent(content)
	return s
}

// Scrolled scrolls, or passes the wheel on where there is nothing to scroll.
func (s *Scroll) Scrolled(ev *fyne.ScrollEvent) {
	if s.onShort != nil && s.Content.Size().Height <= s.Size().Height {
		s.onShort(ev)
		return
	}
	s.Scroll.Scrolled(ev)
}

// SetContent shows something else, from the top.
func (s *Scroll) SetContent(content fyne.CanvasObject) {
	c := container.New(squeezed{})
	if content != nil {
		c.Objects = append(c.Objects, content)
	}
	s.Content, s.Offset = c, fyne.Position{}
	if w := s.Size().Width; w > 0 {
		heightAt(c, w)
		s.Refresh()
	}
}

// squeezed is a layout that asks for no width.
type squeezed struct{}

func (squeezed) Layout(objects []fyne.CanvasObject, size fyne.Size) { pad{}.Layout(objects, size) }

func (squeezed) MinSize(objects []fyne.CanvasObject) fyne.Size {
	return fyne.NewSize(0, pad{}.MinSize(objects).Height)
}

// Resize sets the content's width before the toolkit asks for its height.
func (s *Scroll) Resize(size fyne.Size) {
	if size.Width > 0 {
		heightAt(s.Content, size.Width)
	}
	s.Scroll.Resize(size)
}

// MinSize does not depend on the content.
func (s *Scroll) MinSize() fyne.Size { return fyne.NewSize(64, 64) }

func (s *Scroll) held() []fyne.CanvasObject { return []fyne.CanvasObject{s.Content} }
