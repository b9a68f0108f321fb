package look

import (
	"image"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/container"
	"fyne.io/fyne/v2/driver/desktop"
	"fyne.io/fyne/v2/widget"

	"faultwright/content/figure"
	"faultwright/faulttree/source"
)

// Viewport shows a part of a drawing that is larger than the page. It is moved by
// dragging, by the wheel and by a touchpad, and the wheel with Control held zooms. What is
// done by pointer the view must offer by keyboard as well.
type Viewport struct {
	widget.BaseWidget

	// OnTapped is told where in the drawing the reader has tapped.
	OnTapped func(at figure.Point)
	// OnMoved is told that the reader has moved to another part, or to another size.
	OnMoved func()
	// OnArrow, OnKey and OnRune are those of a [Surface].
	OnArrow func(dx, dy float64)
	OnKey   func(name fyne.KeyName) bool
	OnRune  func(r rune) bool
	// Spare is how much higher than LeastViewport it is: what the rest of the page leaves.
	Spare float32

	drawing figure.Drawing
	bounds  []figure.Box // of each item
	view    View
	looked  *figure.Box // shown until the reader looks elsewhere, whatever the size; nil for nothing
	focused bool
	drawn   *viewportRenderer
}

// View is the part of a drawing that is shown: the point in the middle, and how many
// points of the screen a unit of the drawing takes, at text of the usual size.
type View struct {
	Middle figure.Point
	Zoom   float64
}

// How far a view zooms, and how high a viewport is at least.
const (
	LeastZoom, MostZoom         = 0.01, 3.0
	LeastViewport       float32 = 240
)

// leastType is the height in points below which words are not drawn: nobody could read
// them.
const leastType = 4.5

// NewViewport shows a part of d.
func NewViewport(d figure.Drawing, v View) *Viewport {
	p := &Viewport{view: v}
	p.ExtendBaseWidget(p)
	p.SetDrawing(d)
	return p
}

// SetDrawing shows another drawing, at the same place.
func (p *Viewport) SetDrawing(d figure.Drawing) {
	p.drawing = d
	p.bounds = p.bounds[:0]
	for _, item := range d.Items {
		p.bounds = append(p.bounds, boundsOf(item))
	}
	p.Refresh()
}

// View is what is shown.
func (p *Viewport) View() View { return p.view }

// SetView shows another part of the drawing.
func (p *Viewport) SetView(v View) {
	v.Zoom = min(max(v.Zoom, LeastZoom), MostZoom)
	v.Middle.X = min(max(v.Middle.X, 0), p.drawing.Width)
	v.Middle.Y = min(max(v.Middle.Y, 0), p.drawing.Height)
	p.view, p.looked = v, nil
	p.Refresh()
	if p.OnMoved != nil {
		p.OnMoved()
	}
}

// ZoomBy makes everything larger by a factor, or smaller; the middle stays.
func (p *Viewport) ZoomBy(factor float64) {
	v := p.view
	v.Zoom *= factor
	p.SetView(v)
}

// Look shows a box at 100 %: its middle, or its top left corner where it is too large, and
// nothing beyond the edges of the drawing where that fills the view.
func (p *Viewport) Look(b figure.Box) {
	p.looked = &b
	if p.Size().Width <= 0 {
		return
	}
	p.view.Zoom = 1
	half := p.half()
	p.view.Middle.X = within((b.Left+b.Right)/2, 2*half.X, p.drawing.Width)
	p.view.Middle.Y = within((b.Top+b.Bottom)/2, 2*half.Y, p.drawing.Height)
	p.view = p.revealing(b)
	p.Refresh()
}

// half is half of what is shown, across and down.
func (p *Viewport) half() figure.Point {
	return figure.Point{X: float64(p.Size().Width) / p.scale() / 2, Y: float64(p.Size().Height) / p.scale() / 2}
}

// within is the middle of a view as near to a place as shows nothing beyond a length; that
// of the length where it is shorter than the view.
func within(middle, view, length float64) float64 {
	if length <= view {
		return length / 2
	}
	return min(max(middle, view/2), length-view/2)
}

// Resize shows what is looked at.
func (p *Viewport) Resize(size fyne.Size) {
	p.BaseWidget.Resize(size)
	if p.looked != nil {
		p.Look(*p.looked)
	}
}

// Whole shows the whole drawing.
func (p *Viewport) Whole() {
	s := p.Size()
	d := p.drawing
	if d.Width <= 0 || d.Height <= 0 {
		return
	}
	zoom := min(float64(s.Width)/d.Width, float64(s.Height)/d.Height) / float64(TextScale())
	p.SetView(View{figure.Point{X: d.Width / 2, Y: d.Height / 2}, zoom})
}

// Reveal moves the drawing as little as brings a box into view; of one that is larger
// than the view its top left corner.
func (p *Viewport) Reveal(b figure.Box) {
	if v := p.revealing(b); v != p.view {
		p.SetView(v)
	}
}

func (p *Viewport) revealing(b figure.Box) View {
	const edge = 24
	v, half := p.view, p.half()
	into := func(middle, half, low, high float64) float64 {
		middle = max(middle, high+edge-half)
		return min(middle, low-edge+half)
	}
	v.Middle.X = into(v.Middle.X, half.X, b.Left, b.Right)
	v.Middle.Y = into(v.Middle.Y, half.Y, b.Top, b.Bottom)
	return v
}

// scale is points of the screen for a unit of the drawing.
func (p *Viewport) scale() float64 { return p.view.Zoom * float64(TextScale()) }

// origin is the point of the drawing at the widget's top left corner.
func (p *Viewport) origin() figure.Point {
	half := p.half()
	return p.view.Middle.Add(-half.X, -half.Y)
}

// PositionOf is where a point of the drawing lies, from the widget's corner.
func (p *Viewport) PositionOf(at figure.Point) fyne.Position {
	o := p.origin()
	return fyne.NewPos(float32((at.X-o.X)*p.scale()), float32((at.Y-o.Y)*p.scale()))
}

// Plain is what the drawing shows, in words.
func (p *Viewport) Plain() string { return p.drawing.Description }

// AccessibilityLabel is what the drawing shows, in words.
func (p *Viewport) AccessibilityLabel() string { return p.Plain() }

// AccessibilityRole is that of a text.
func (p *Viewport) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// Tapped tells where, and takes the keyboard.
func (p *Viewport) Tapped(ev *fyne.PointEvent) {
	if c := canvasOf(p); c != nil {
		c.Focus(p)
	}
	if p.OnTapped != nil {
		o := p.origin()
		p.OnTapped(o.Add(float64(ev.Position.X)/p.scale(), float64(ev.Position.Y)/p.scale()))
	}
}

// Dragged moves the drawing along.
func (p *Viewport) Dragged(ev *fyne.DragEvent) { p.pan(ev.Dragged) }

// DragEnd is the end of it.
func (p *Viewport) DragEnd() {}

// Scrolled moves the drawing, or zooms while Control is held.
func (p *Viewport) Scrolled(ev *fyne.ScrollEvent) {
	if d, ok := fyne.CurrentApp().Driver().(desktop.Driver); ok && d.CurrentKeyModifiers()&fyne.KeyModifierControl != 0 {
		factor := 1.15
		if ev.Scrolled.DY < 0 {
			factor = 1 / factor
		}
		p.ZoomBy(factor)
		return
	}
	p.pan(ev.Scrolled)
}

func (p *Viewport) pan(by fyne.Delta) {
	v := p.view
	v.Middle = v.Middle.Add(-float64(by.DX)/p.scale(), -float64(by.DY)/p.scale())
	p.SetView(v)
}

// FocusGained shows the ring.
func (p *Viewport) FocusGained() {
	p.focused = true
	p.paintRing()
}

// FocusLost hides it.
func (p *Viewport) FocusLost() {
	p.focused = false
	p.paintRing()
}

func (p *Viewport) paintRing() {
	if p.drawn != nil {
		p.drawn.raster.Refresh()
	}
}

// TypedRune tells a character, or leaves it to the window.
func (p *Viewport) TypedRune(r rune) {
	if p.OnRune == nil || !p.OnRune(r) {
		handRune(p, r)
	}
}

// TypedKey tells a key, or leaves it to the window.
func (p *Viewport) TypedKey(ev *fyne.KeyEvent) {
	if way, ok := ways[ev.Name]; ok && p.OnArrow != nil {
		p.OnArrow(way[0], way[1])
		return
	}
	if p.OnKey == nil || !p.OnKey(ev.Name) {
		handOn(p, ev)
	}
}

// MinSize is what the page leaves of the window.
func (p *Viewport) MinSize() fyne.Size { return fyne.NewSize(160, LeastViewport+p.Spare) }

// CreateRenderer is called by the toolkit.
func (p *Viewport) CreateRenderer() fyne.WidgetRenderer {
	r := &viewportRenderer{p: p, ground: canvas.NewRectangle(none), words: container.NewWithoutLayout()}
	r.raster = canvas.NewRaster(r.paint)
	p.drawn = r
	r.Refresh()
	return r
}

type viewportRenderer struct {
	p      *Viewport
	ground *canvas.Rectangle
	raster *canvas.Raster
	texts  []*canvas.Text  // as many as there were at most
	words  *fyne.Container // those in the part shown; the toolkit clips what can be scrolled
}

// visible yields the items that lie in the part shown.
func (r *viewportRenderer) visible(do func(figure.Item)) {
	o, s := r.p.origin(), r.p.Size()
	part := figure.Box{Left: o.X, Top: o.Y, Right: o.X + float64(s.Width)/r.p.scale(), Bottom: o.Y + float64(s.Height)/r.p.scale()}
	for i, b := range r.p.bounds {
		if b.Left <= part.Right && part.Left <= b.Right && b.Top <= part.Bottom && part.Top <= b.Bottom {
			do(r.p.drawing.Items[i])
		}
	}
}

// paint paints the shapes of the part shown into so many pixels, and the edge, which shows
// whether the keyboard is here.
func (r *viewportRenderer) paint(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	if r.p.Size().Width <= 0 || w <= 0 || h <= 0 {
		return img
	}
	b, palette := newBrush(img, float64(w)/float64(r.p.Size().Width)*r.p.scale()), FigurePalette()
	b.origin = r.p.origin()
	r.visible(func(item figure.Item) { b.item(item, palette) })
	edge := palette.Color(figure.Line)
	if r.p.focused {
		edge = palette.Color(figure.Accent)
	}
	pixel := 1 / b.scale
	last := b.origin.Add(float64(w)*pixel, float64(h)*pixel)
	b.stroke([]figure.Point{b.origin, {X: last.X, Y: b.origin.Y}, last, {X: b.origin.X, Y: last.Y}}, true, 4/r.p.scale(), edge)
	return img
}

func (r *viewportRenderer) MinSize() fyne.Size { return r.p.MinSize() }

func (r *viewportRenderer) Layout(size fyne.Size) {
	place(r.ground, 0, 0, size.Width, size.Height)
	place(r.raster, 0, 0, size.Width, size.Height)
	place(r.words, 0, 0, size.Width, size.Height)
	r.write()
}

// write puts the words of the part shown where they belong.
func (r *viewportRenderer) write() {
	scale, palette, driver := r.p.scale(), FigurePalette(), fyne.CurrentApp().Driver()
	r.words.Objects = r.words.Objects[:0]
	r.visible(func(item figure.Item) {
		t, ok := item.(figure.Text)
		if !ok || t.Size*scale < leastType {
			return
		}
		n := len(r.words.Objects)
		if n == len(r.texts) {
			r.texts = append(r.texts, canvas.NewText("", nil))
		}
		c := r.texts[n] // the same objects again, while the drawing is moved
		c.Text, c.Color, c.TextStyle.Bold, c.TextSize = source.Shown(t.Value), palette.Color(t.Ink), t.Bold, float32(t.Size*scale)
		m, base := driver.RenderedTextSize(c.Text, c.TextSize, c.TextStyle, nil)
		at := r.p.PositionOf(t.At)
		switch t.Anchor {
		case figure.Middle:
			at.X -= m.Width / 2
		case figure.End:
			at.X -= m.Width
		}
		place(c, at.X, at.Y-base, m.Width, m.Height)
		r.words.Objects = append(r.words.Objects, c)
	})
	r.words.Refresh()
}

func (r *viewportRenderer) Refresh() {
	r.ground.FillColor = colorOf(ColorPanel, r.p)
	r.ground.Refresh()
	r.write()
	r.raster.Refresh()
	canvas.Refresh(r.p)
}

func (r *viewportRenderer) Objects() []fyne.CanvasObject {
	return []fyne.CanvasObject{r.ground, r.raster, r.words}
}

func (r *viewportRenderer) Destroy() {}

// boundsOf is the box around an item of a drawing.
func boundsOf(item figure.Item) figure.Box {
	var ps []figure.Point
	grow := 0.0
	switch it := item.(type) {
	case figure.Polyline:
		ps, grow = it.Points, it.Width
	case figure.Polygon:
		ps, grow = it.Points, it.Width
	case figure.Circle:
		ps, grow = []figure.Point{it.Center}, it.Radius+it.Width
	case figure.Text:
		return it.Bounds()
	}
	if len(ps) == 0 {
		return figure.Box{Left: 1, Right: -1}
	}
	b := figure.Box{Left: ps[0].X, Top: ps[0].Y, Right: ps[0].X, Bottom: ps[0].Y}
	for _, p := range ps {
		b = figure.Box{Left: min(b.Left, p.X), Top: min(b.Top, p.Y), Right: max(b.Right, p.X), Bottom: max(b.Bottom, p.Y)}
	}
	return figure.Box{Left: b.Left - grow, Top: b.Top - grow, Right: b.Right + grow, Bottom: b.Bottom + grow}
}
