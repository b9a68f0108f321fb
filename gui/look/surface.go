package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"

	"faultwright/content/figure"
)

// Surface is a drawing on which probes are put: by a tap, by dragging one, or by
// the keyboard once the drawing has it. It only tells what the reader does; the
// view moves the probes and draws them.
type Surface struct {
	LiveFigure

	// OnGrab is told where a drag begins, and reports whether a probe is there.
	OnGrab func(at figure.Point, reach float64) bool
	// OnMove is told where the probe is that is being dragged.
	OnMove func(at figure.Point)
	// OnDrop is told where it is let go, and how many units are as wide as a
	// finger.
	OnDrop func(at figure.Point, reach float64)
	// OnArrow is told the direction of an arrow key, X to the right and Y
	// downwards.
	OnArrow func(dx, dy float64)
	// OnKey is told any other key and reports whether it was of use.
	OnKey func(name fyne.KeyName) bool
	// OnRune is told a character that is typed and reports whether it was of use.
	OnRune func(r rune) bool

	ring    *canvas.Rectangle
	held    bool
	last    figure.Point
	focused bool
}

// NewSurface makes an empty one.
func NewSurface() *Surface {
	s := &Surface{ring: canvas.NewRectangle(none)}
	s.ring.StrokeWidth, s.ring.CornerRadius = 2, theme.Size(theme.SizeNameCardRadius)
	s.ExtendBaseWidget(s)
	return s
}

// at is a position of the widget in units of the drawing.
func (s *Surface) at(pos fyne.Position) (figure.Point, float64, bool) {
	if s.renderer == nil {
		return figure.Point{}, 0, false
	}
	scale := s.renderer.scaleAt(s.Size().Width)
	if scale <= 0 {
		return figure.Point{}, 0, false
	}
	p := pos.Subtract(s.renderer.raster.Position())
	return figure.Point{X: float64(p.X / scale), Y: float64(p.Y / scale)}, finger / float64(scale), true
}

// Tapped takes the keyboard, wherever in the drawing the tap is: R, B, the arrows and
// Enter go on from there.
func (s *Surface) Tapped(ev *fyne.PointEvent) {
	s.focus()
	s.LiveFigure.Tapped(ev)
}

func (s *Surface) focus() {
	if c := canvasOf(s); c != nil {
		c.Focus(s)
	}
}

// Dragged moves the probe that the drag began at.
func (s *Surface) Dragged(ev *fyne.DragEvent) {
	at, reach, ok := s.at(ev.Position)
	if !ok {
		return
	}
	if !s.held {
		from, _, _ := s.at(ev.Position.Subtract(ev.Dragged))
		if s.OnGrab == nil || !s.OnGrab(from, reach) {
			return
		}
		s.held = true
		s.focus()
	}
	s.last = at
	if s.OnMove != nil {
		s.OnMove(at)
	}
}

// DragEnd lets the probe go.
func (s *Surface) DragEnd() {
	if !s.held {
		return
	}
	s.held = false
	if _, reach, ok := s.at(fyne.Position{}); ok && s.OnDrop != nil {
		s.OnDrop(s.last, reach)
	}
}

// Plain is what the drawing shows, in words.
func (s *Surface) Plain() string { return s.LiveFigure.Plain() }

// FocusGained shows the ring.
func (s *Surface) FocusGained() {
	s.focused = true
	s.paintRing()
}

// FocusLost hides it.
func (s *Surface) FocusLost() {
	s.focused = false
	s.paintRing()
}

func (s *Surface) paintRing() {
	s.ring.StrokeColor = none
	if s.focused {
		s.ring.StrokeColor = colorOf(ColorAccent, s)
	}
	s.ring.Refresh()
}

// TypedRune tells a character, or leaves it to the window.
func (s *Surface) TypedRune(r rune) {
	if s.OnRune != nil && s.OnRune(r) {
		return
	}
	handRune(s, r)
}

// ways are the directions of the arrow keys, X to the right and Y downwards.
var ways = map[fyne.KeyName][2]float64{fyne.KeyLeft: {-1, 0}, fyne.KeyRight: {1, 0}, fyne.KeyUp: {0, -1}, fyne.KeyDown: {0, 1}}

// TypedKey tells a key, or leaves it to the window.
func (s *Surface) TypedKey(ev *fyne.KeyEvent) {
	if way, ok := ways[ev.Name]; ok && s.OnArrow != nil {
		s.OnArrow(way[0], way[1])
		return
	}
	if s.OnKey != nil && s.OnKey(ev.Name) {
		return
	}
	handOn(s, ev)
}

// CreateRenderer is called by the toolkit.
func (s *Surface) CreateRenderer() fyne.WidgetRenderer {
	s.renderer = newFigureRenderer(&s.Figure, s)
	return &surfaceRenderer{s.renderer, s}
}

// surfaceRenderer draws the figure with its focus ring.
type surfaceRenderer struct {
	*figureRenderer
	s *Surface
}

func (r *surfaceRenderer) Layout(size fyne.Size) {
	r.figureRenderer.Layout(size)
	r.s.ring.Move(fyne.NewPos(-ringGap, -ringGap))
	r.s.ring.Resize(size.AddWidthHeight(2*ringGap, 2*ringGap))
}

func (r *surfaceRenderer) Objects() []fyne.CanvasObject {
	return append(r.figureRenderer.Objects(), r.s.ring)
}
