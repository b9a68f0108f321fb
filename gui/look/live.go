package look

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/driver/desktop"

	"faultwright/content/figure"
)

// LiveFigure is a [Figure] that can be tapped and that is redrawn often. What
// it does by pointer the view must offer by keyboard as well.
type LiveFigure struct {
	Figure

	// OnTapped is told where in the drawing the reader has tapped, and how
	// many units of it are as wide as a finger.
	OnTapped func(at figure.Point, reach float64)
	// OnWidth is told the width of the widget when that changes, so that the
	// view can have the drawing planned anew.
	OnWidth func(width float32)

	renderer *figureRenderer
	told     float32
}

// NewLiveFigure shows d.
func NewLiveFigure(d figure.Drawing) *LiveFigure {
	f := &LiveFigure{Figure: Figure{drawing: d}}
	f.ExtendBaseWidget(f)
	return f
}

// finger is how near a tap must be, in points.
const finger = 24

// Resize tells the width first, since the height depends on the drawing.
func (f *LiveFigure) Resize(size fyne.Size) {
	if f.OnWidth != nil && size.Width != f.told {
		f.told = size.Width
		f.OnWidth(size.Width)
	}
	f.Figure.Resize(size)
}

// Tapped tells where in the drawing.
func (f *LiveFigure) Tapped(ev *fyne.PointEvent) {
	if f.OnTapped == nil || f.renderer == nil || ev == nil {
		return
	}
	s := f.renderer.scaleAt(f.Size().Width)
	if s <= 0 {
		return
	}
	at := ev.Position.Subtract(f.renderer.raster.Position())
	f.OnTapped(figure.Point{X: float64(at.X / s), Y: float64(at.Y / s)}, finger/float64(s))
}

// PositionOf is where in the window's units a point of the drawing lies, from
// the widget's corner.
func (f *LiveFigure) PositionOf(p figure.Point) fyne.Position {
	if f.renderer == nil {
		return fyne.Position{}
	}
	s := f.renderer.scaleAt(f.Size().Width)
	return f.renderer.raster.Position().AddXY(float32(p.X)*s, float32(p.Y)*s)
}

// Cursor is a hand where something can be tapped.
func (f *LiveFigure) Cursor() desktop.Cursor { return desktop.PointerCursor }

// CreateRenderer is called by the toolkit.
func (f *LiveFigure) CreateRenderer() fyne.WidgetRenderer {
	f.renderer = newFigureRenderer(&f.Figure, f)
	return f.renderer
}

// Paint paints the shapes into so many pixels, as the window does when it next
// shows the drawing.
func (f *LiveFigure) Paint(w, h int) image.Image {
	return paintFigure(f.drawing, FigurePalette(), w, h)
}
