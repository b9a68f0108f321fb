package look

import (
	"fyne.io/fyne/v2"
	"fyne.io/fyne/v2/canvas"
	"fyne.io/fyne/v2/widget"

	"faultwright/faulttree"
)

// alert is the safety alert symbol: an exclamation mark in a triangle. NOTICE
// has none, since it is not about injury (ANSI Z535.4).
type alert struct {
	widget.BaseWidget
	signal faulttree.Signal
}

func newAlert(s faulttree.Signal) *alert {
	a := &alert{signal: s}
	a.ExtendBaseWidget(a)
	return a
}

func (a *alert) CreateRenderer() fyne.WidgetRenderer {
	r := &alertRenderer{a: a, tri: canvas.NewArbitraryPolygon(nil, none), bar: canvas.NewArbitraryPolygon(nil, none), dot: canvas.NewCircle(none)}
	r.tri.NormalizedPoints, r.bar.NormalizedPoints = true, true
	r.tri.Points = []fyne.Position{{X: 0.5, Y: 0}, {X: 1, Y: 1}, {X: 0, Y: 1}}
	r.tri.CornerRadii = []float32{2, 2, 2}
	r.bar.Points = []fyne.Position{{X: 0, Y: 0}, {X: 1, Y: 0}, {X: 0.68, Y: 1}, {X: 0.32, Y: 1}}
	r.Refresh()
	return r
}

type alertRenderer struct {
	a        *alert
	tri, bar *canvas.ArbitraryPolygon
	dot      *canvas.Circle
}

func (r *alertRenderer) Refresh() {
	ground, ink := SignalColors(r.a.signal)
	r.tri.FillColor = colorOf(ink, r.a)
	r.bar.FillColor, r.dot.FillColor = colorOf(ground, r.a), colorOf(ground, r.a)
	r.tri.Refresh()
	r.bar.Refresh()
	r.dot.Refresh()
}

func (r *alertRenderer) MinSize() fyne.Size {
	if r.a.signal < faulttree.Caution {
		return fyne.Size{}
	}
	s := sizeOf(SizeText, r.a)
	return fyne.NewSize(s*1.3, s*1.15)
}

func (r *alertRenderer) Layout(size fyne.Size) {
	w, h := size.Width, size.Height
	place(r.tri, 0, 0, w, h)
	place(r.bar, w*0.43, h*0.34, w*0.14, h*0.34)
	d := w * 0.13
	place(r.dot, (w-d)/2, h*0.76, d, d)
}

func (r *alertRenderer) Objects() []fyne.CanvasObject {
	if r.a.signal < faulttree.Caution {
		return nil
	}
	return []fyne.CanvasObject{r.tri, r.bar, r.dot}
}
func (r *alertRenderer) Destroy() {}
