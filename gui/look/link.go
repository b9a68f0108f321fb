package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/driver/desktop"
)

// part is what of a link stands on one line, in the coordinates of the prose.
type part struct {
	text *canvas.Text
	pos  fyne.Position
	size fyne.Size
}

// link is one link of a Prose. It covers the smallest rectangle around all its
// parts, and answers the pointer only on the parts themselves.
type link struct {
	press
	run   Run
	parts []part
}

func newLink(p *Prose, run Run) *link {
	l := &link{run: run}
	l.OnTapped = func() {
		if p.OnTapped != nil {
			p.OnTapped(run.Target)
		}
	}
	l.extend(l)
	return l
}

// Tapped follows the link if the tap is on its text.
func (l *link) Tapped(ev *fyne.PointEvent) {
	if ev != nil && !l.hit(ev.Position) {
		return
	}
	l.press.Tapped(ev)
}

func (l *link) hit(at fyne.Position) bool {
	at = at.Add(l.Position())
	for _, c := range l.parts {
		if at.X >= c.pos.X && at.X < c.pos.X+c.size.Width && at.Y >= c.pos.Y && at.Y < c.pos.Y+c.size.Height {
			return true
		}
	}
	return false
}

// MouseMoved shows the hand over the text alone.
func (l *link) MouseMoved(ev *desktop.MouseEvent) { l.hovered = l.hit(ev.Position) }

// MouseIn is MouseMoved.
func (l *link) MouseIn(ev *desktop.MouseEvent) { l.MouseMoved(ev) }

// Cursor is a hand over the text.
func (l *link) Cursor() desktop.Cursor {
	if l.hovered {
		return desktop.PointerCursor
	}
	return desktop.DefaultCursor
}

// coverParts moves the link to where its parts are.
func (l *link) coverParts() {
	if len(l.parts) == 0 {
		return
	}
	low, high := l.parts[0].pos, l.parts[0].pos
	for _, c := range l.parts {
		low.X, low.Y = min(low.X, c.pos.X), min(low.Y, c.pos.Y)
		high.X, high.Y = max(high.X, c.pos.X+c.size.Width), max(high.Y, c.pos.Y+c.size.Height)
	}
	for _, c := range l.parts {
		c.text.Move(c.text.Position().Subtract(low))
	}
	l.Move(low)
	l.Resize(fyne.NewSize(high.X-low.X, high.Y-low.Y))
	l.Refresh()
}

// CreateRenderer is called by the toolkit.
func (l *link) CreateRenderer() fyne.WidgetRenderer {
	r := &linkRenderer{l: l}
	r.Refresh()
	return r
}

type linkRenderer struct {
	l       *link
	objects []fyne.CanvasObject
}

func (r *linkRenderer) Refresh() {
	r.objects = r.objects[:0]
	for _, c := range r.l.parts {
		if r.l.focused {
			ring := canvas.NewRectangle(none)
			ring.StrokeColor, ring.StrokeWidth, ring.CornerRadius = colorOf(ColorAccent, r.l), 2, 4
			place(ring, c.pos.X-r.l.Position().X-3, c.pos.Y-r.l.Position().Y, c.size.Width+6, c.size.Height)
			r.objects = append(r.objects, ring)
		}
		r.objects = append(r.objects, c.text)
	}
	canvas.Refresh(r.l)
}

func (r *linkRenderer) Layout(fyne.Size)             {}
func (r *linkRenderer) MinSize() fyne.Size           { return fyne.Size{} }
func (r *linkRenderer) Objects() []fyne.CanvasObject { return r.objects }
func (r *linkRenderer) Destroy()                     {}
