package look

import (
	"slices"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"
)

// Check is the toolkit's check box with words that wrap; Enter turns it as well as Space.
type Check struct {
	widget.Check

	Text  string // its words; the toolkit's box has none of its own
	label *Prose
}

// NewCheck makes a check box.
func NewCheck(text string, on bool, turn func(on bool)) *Check {
	c := &Check{label: NewText(text)}
	c.Text = c.label.Plain()
	c.Checked, c.OnChanged = on, turn
	c.ExtendBaseWidget(c)
	return c
}

// Plain is the text, and whether it is on.
func (c *Check) Plain() string {
	if c.Checked {
		return c.Text + ": on"
	}
	return c.Text + ": off"
}

// Natural is the size with the text on one line.
func (c *Check) Natural() fyne.Size {
	return fyne.NewSize(c.MinSize().Width-c.label.MinSize().Width+c.label.Natural().Width, c.MinSize().Height)
}

// Tapped turns it, wherever the tap is on box or words.
func (c *Check) Tapped(ev *fyne.PointEvent) {
	if ev == nil || ev.Position.X <= c.Natural().Width {
		c.Check.Tapped(&fyne.PointEvent{})
	}
}

func (c *Check) held() []fyne.CanvasObject { return []fyne.CanvasObject{c.label} }

// TypedKey turns on Enter and leaves other keys to the window.
func (c *Check) TypedKey(ev *fyne.KeyEvent) {
	switch ev.Name {
	case fyne.KeyReturn, fyne.KeyEnter:
		c.SetChecked(!c.Checked)
	case fyne.KeySpace:
		c.Check.TypedKey(ev)
	default:
		handOn(c, ev)
	}
}

// TypedRune gives the window what is typed, but for Space, which turns.
func (c *Check) TypedRune(r rune) {
	if r == ' ' {
		c.Check.TypedRune(r)
		return
	}
	handRune(c, r)
}

// FocusGained brings the box into view.
func (c *Check) FocusGained() {
	c.Check.FocusGained()
	Reveal(c)
}

// CreateRenderer is called by the toolkit.
func (c *Check) CreateRenderer() fyne.WidgetRenderer {
	return &checkRenderer{c.Check.CreateRenderer(), c}
}

// checkRenderer is that of the toolkit's box, which has no words of its own, and the words
// beside it.
type checkRenderer struct {
	fyne.WidgetRenderer
	c *Check
}

func (r *checkRenderer) MinSize() fyne.Size {
	box, words := r.box(), r.c.label.MinSize()
	return fyne.NewSize(box.Width+words.Width, max(box.Height, words.Height+2*r.above()))
}

// box is the room for the box; the words begin nearer to it than the toolkit's own would.
func (r *checkRenderer) box() fyne.Size {
	return r.WidgetRenderer.MinSize().SubtractWidthHeight(theme.Size(theme.SizeNameInnerPadding)/2, 0)
}

// above is the room over the words, so that the first line is level with the box.
func (r *checkRenderer) above() float32 {
	return max(0, (r.box().Height-r.c.label.Natural().Height)/2)
}

func (r *checkRenderer) Layout(size fyne.Size) {
	box := r.box()
	r.WidgetRenderer.Layout(box)
	width := max(size.Width-box.Width, 1)
	place(r.c.label, box.Width, r.above(), width, heightAt(r.c.label, width))
}

func (r *checkRenderer) Refresh() {
	r.c.label.Ink = ColorInk
	if r.c.Disabled() {
		r.c.label.Ink = ColorSoftInk
	}
	r.c.label.Refresh()
	r.WidgetRenderer.Refresh()
}

func (r *checkRenderer) Objects() []fyne.CanvasObject {
	return slices.Concat(r.WidgetRenderer.Objects(), r.c.held())
}
