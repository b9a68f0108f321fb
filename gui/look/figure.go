package look

import (
	"cmp"
	"image"
	"image/color"
	"math"

	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/theme"
	"fyne.io/fyne/v2/widget"

	"faultwright/content/figure"
	"faultwright/faulttree/source"
)

// Figure shows a drawing on a bordered panel, as wide as there is room and in
// its own proportions. Shapes are painted, words are texts.
type Figure struct {
	widget.BaseWidget

	// MaxHeight keeps the picture lower than its width would make it; 0 does
	// not. MaxScale keeps it from being enlarged more than so much; 0 means
	// 1.2 times the text size.
	MaxHeight, MaxScale float32

	drawing figure.Drawing
}

// NewFigure shows d.
func NewFigure(d figure.Drawing) *Figure {
	f := &Figure{drawing: d}
	f.ExtendBaseWidget(f)
	return f
}

// SetDrawing shows another one.
func (f *Figure) SetDrawing(d figure.Drawing) {
	f.drawing = d
	f.Refresh()
}

// Plain is what the drawing shows, in words.
func (f *Figure) Plain() string {
	return cmp.Or(f.drawing.Description, f.drawing.Title)
}

// AccessibilityLabel is what the drawing shows, in words.
func (f *Figure) AccessibilityLabel() string { return f.Plain() }

// AccessibilityRole is that of a text.
func (f *Figure) AccessibilityRole() fyne.AccessibleRole { return fyne.AccessibleRoleText }

// FigurePalette is the palette of drawings that goes with the theme in force.
func FigurePalette() figure.Palette {
	page := color.NRGBAModel.Convert(theme.Color(ColorPage)).(color.NRGBA)
	switch {
	case page == black:
		return figure.HighContrast()
	case figure.Contrast(page, white) > figure.Contrast(page, black):
		return figure.Dark()
	}
	return figure.Light()
}

const figurePad float32 = 12

// CreateRenderer is called by the toolkit.
func (f *Figure) CreateRenderer() fyne.WidgetRenderer {
	return newFigureRenderer(f, f)
}

// newFigureRenderer draws f for the widget that shows it.
func newFigureRenderer(f *Figure, self fyne.Widget) *figureRenderer {
	r := &figureRenderer{f: f, self: self, frame: newFrame(theme.Size(theme.SizeNameCardRadius))}
	r.raster = canvas.NewRaster(func(w, h int) image.Image {
		return paintFigure(r.f.drawing, r.palette, w, h)
	})
	r.Refresh()
	return r
}

type figureRenderer struct {
	f       *Figure
	self    fyne.Widget
	frame   *frame
	raster  *canvas.Raster
	palette figure.Palette
	texts   []*canvas.Text
}

// scaleAt is points per drawing unit at a width of the whole widget.
func (r *figureRenderer) scaleAt(width float32) float32 {
	d := r.f.drawing
	if d.Width <= 0 || d.Height <= 0 {
		return 0
	}
	most := r.f.MaxScale
	if most == 0 {
		most = 1.2 * TextScale()
	}
	s := min((width-2*figurePad)/float32(d.Width), most)
	if r.f.MaxHeight > 0 {
		s = min(s, (r.f.MaxHeight-2*figurePad)/float32(d.Height))
	}
	return max(s, 0)
}

func (r *figureRenderer) MinSize() fyne.Size {
	w := r.f.Size().Width
	if w == 0 {
		w = 240
	}
	return fyne.NewSize(160, r.scaleAt(w)*float32(r.f.drawing.Height)+2*figurePad)
}

func (r *figureRenderer) Layout(size fyne.Size) {
	r.frame.layout(size)
	d := r.f.drawing
	s := r.scaleAt(size.Width)
	w, h := s*float32(d.Width), s*float32(d.Height)
	x, y := (size.Width-w)/2, (size.Height-h)/2
	place(r.raster, x, y, w, h)
	i := 0
	for _, item := range d.Items {
		t, ok := item.(figure.Text)
		if !ok || i >= len(r.texts) {
			continue
		}
		c := r.texts[i]
		i++
		c.TextSize = float32(t.Size) * s
		m, base := fyne.CurrentApp().Driver().RenderedTextSize(c.Text, c.TextSize, c.TextStyle, nil)
		left := x + float32(t.At.X)*s
		switch t.Anchor {
		case figure.Middle:
			left -= m.Width / 2
		case figure.End:
			left -= m.Width
		}
		place(c, left, y+float32(t.At.Y)*s-base, m.Width, m.Height)
	}
}

func (r *figureRenderer) Refresh() {
	r.palette = FigurePalette()
	r.frame.paint(r.self, nil, ColorPanel, ColorLine, 1)
	n := 0
	for _, item := range r.f.drawing.Items {
		t, ok := item.(figure.Text)
		if !ok {
			continue
		}
		if n == len(r.texts) {
			r.texts = append(r.texts, canvas.NewText("", nil))
		}
		c := r.texts[n] // the same objects again: a live drawing changes many times a second
		n++
		c.Text, c.Color, c.TextStyle.Bold = source.Shown(t.Value), r.palette.Color(t.Ink), t.Bold
	}
	r.texts = r.texts[:n]
	r.Layout(r.self.Size())
	r.raster.Refresh()
	canvas.Refresh(r.self)
}

func (r *figureRenderer) Objects() []fyne.CanvasObject {
	out := []fyne.CanvasObject{r.frame.ground, r.raster}
	for _, t := range r.texts {
		out = append(out, t)
	}
	return out
}
func (r *figureRenderer) Destroy() {}

// paintFigure paints the shapes of d into w by h pixels.
func paintFigure(d figure.Drawing, p figure.Palette, w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	if d.Width <= 0 || w <= 0 || h <= 0 {
		return img
	}
	b := newBrush(img, float64(w)/d.Width)
	for _, item := range d.Items {
		b.item(item, p)
	}
	return img
}

// item paints a shape; words are texts of their own.
func (b *brush) item(item figure.Item, p figure.Palette) {
	switch it := item.(type) {
	case figure.Polyline:
		b.stroke(it.Points, false, it.Width, p.Color(it.Ink))
	case figure.Polygon:
		b.fill(it.Points, p.Color(it.Fill))
		b.stroke(it.Points, true, it.Width, p.Color(it.Stroke))
	case figure.Circle:
		ring := circle(it.Center, it.Radius)
		b.fill(ring, p.Color(it.Fill))
		b.stroke(ring, true, it.Width, p.Color(it.Stroke))
	}
}

// circle is a polygon that passes for one.
func circle(c figure.Point, radius float64) []figure.Point {
	const corners = 48
	out := make([]figure.Point, corners)
	for i := range out {
		s, k := math.Sincos(2 * math.Pi * float64(i) / corners)
		out[i] = figure.Point{X: c.X + radius*k, Y: c.Y + radius*s}
	}
	return out
}
